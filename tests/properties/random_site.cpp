#include "properties/random_site.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/base/random.hpp"
#include "linkmargin/geometry/point.hpp"
#include "linkmargin/geometry/segment.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace properties {
namespace {

using namespace linkmargin;

constexpr double kRoomHeightM = 2.5;
constexpr double kClearOfWallsM = 0.375;

/// A rectangle with its sides along the axes.
struct Part {
  Point2 corner;
  double width_m = 0, depth_m = 0;

  Point2 far() const { return {corner.x + width_m, corner.y + depth_m}; }
};

std::string number(double value) {
  return shortest_text(value);
}

std::string list(std::initializer_list<double> values) {
  std::string text;
  for (const double value : values) text += (text.empty() ? "[" : ", ") + number(value);
  return text + "]";
}

class Writer {
 public:
  explicit Writer(std::uint64_t seed) : random_(seed, named_stream("site of properties")) {
    text_ = "# Invented: site " + std::to_string(seed) + " of the generator in tests/properties.\n";
    text_ += "site: random site " + std::to_string(seed) + "\n";
  }

  std::string written() {
    write_settings();
    const int storeys = 1 + below(2);
    text_ += "storeys:\n";
    for (int storey = 0; storey < storeys; ++storey) write_storey(storey);
    write_radios(storeys);
    return text_;
  }

 private:
  int below(int count) { return static_cast<int>(random_.uniform(drawn_++) * count); }
  bool one_in(int count) { return below(count) == 0; }

  /// In eighths of a metre.
  double eighths(double from, double to) {
    return std::round((from + random_.uniform(drawn_++) * (to - from)) * 8) / 8;
  }

  std::string picked(std::initializer_list<const char*> words) {
    return *(words.begin() + below(static_cast<int>(words.size())));
  }

  std::string wall() {
    return picked({"{material: brick, thickness_m: 0.24}", "{material: concrete, thickness_m: 0.18}",
                   "{material: stud wall}", "{material: masonry block, thickness_m: 0.2}",
                   "{material: corrugated steel wall}", "{material: stone, thickness_m: 0.5}"});
  }

  void write_settings() {
    const std::string model = one_in(4) ? picked({"log_distance", "multi_wall", "free_space"}) : "walls";
    text_ += "radio: {frequency_mhz: " + picked({"433.92", "868.3", "868.3", "915"}) + ", model: " + model;
    if (model == "walls") {
      const bool diffraction = !one_in(3);
      text_ += diffraction ? ", diffraction: on" : ", diffraction: off";
      if (diffraction) text_ += one_in(3) ? ", reverberation: off" : ", reverberation: on";
      if (one_in(4)) text_ += ", exponent: 2.4";
    }
    if (one_in(5)) text_ += ", ground_reflection: on";
    text_ += "}\n";
    if (one_in(4)) text_ += "fading: off\n";
    text_ += "reading: {zero_dbm: -105, full_dbm: " + picked({"-30", "-45", "-60"}) +
             ", weak_below_percent: " + picked({"25", "40", "60"}) + "}\n";
  }

  /// A rectangle cut again and again.
  std::vector<Part> rooms_in(Part whole) {
    std::vector<Part> rooms{whole};
    const std::size_t most = 1 + static_cast<std::size_t>(below(6));
    for (std::size_t i = 0; i < rooms.size() && rooms.size() < most;) {
      Part& room = rooms[i];
      const bool wide = room.width_m >= room.depth_m;
      const double side = wide ? room.width_m : room.depth_m;
      if (side < 5) {
        ++i;
        continue;
      }
      const double cut = eighths(2.25, side - 2.25);
      Part rest = room;
      (wide ? room.width_m : room.depth_m) = cut;
      (wide ? rest.width_m : rest.depth_m) -= cut;
      (wide ? rest.corner.x : rest.corner.y) += cut;
      rooms.push_back(rest);
    }
    return rooms;
  }

  static std::string room_name(std::size_t storey, std::size_t room) {
    return std::string(storey == 0 ? "low" : "high") + " room " +
           std::string(1, static_cast<char>('a' + room));
  }

  void write_storey(int storey) {
    const std::string name = storey == 0 ? "ground" : "upper";
    text_ += "  - name: " + name + "\n    level_m: " + number(2.75 * storey) +
             "\n    height_m: " + number(kRoomHeightM) + "\n";
    text_ += "    floor: {material: " +
             picked({"concrete, thickness_m: 0.2", "timber floor", "concrete, thickness_m: 0.3"}) + "}\n";
    text_ += "    outer_wall: " + wall() + "\n    inner_wall: " + wall() + "\n";
    if (storey == 0) house_ = {{0, 0}, eighths(5, 16), eighths(4, 12)};
    std::vector<Part> rooms = rooms_in(house_);
    if (storey == 0 && one_in(4))
      rooms.push_back({{house_.width_m + eighths(4, 20), eighths(-2, 6)}, 4, 3.5});
    text_ += "    rooms:\n";
    for (std::size_t i = 0; i < rooms.size(); ++i) {
      const Part& room = rooms[i];
      text_ += "      " + room_name(rooms_.size(), i) +
               ": {rect_m: " + list({room.corner.x, room.corner.y, room.width_m, room.depth_m}) + "}\n";
      add_walls(room);
    }
    write_openings(rooms);
    write_screens(rooms_.size());
    write_obstacle(rooms);
    rooms_.push_back(std::move(rooms));
  }

  void add_walls(const Part& room) {
    const Point2 a = room.corner, c = room.far(), b{c.x, a.y}, d{a.x, c.y};
    for (const Segment2& line : {Segment2{a, b}, Segment2{b, c}, Segment2{c, d}, Segment2{d, a}})
      lines_.push_back(line);
  }

  /// On some of the walls that two rooms share, and on outer ones.
  void write_openings(const std::vector<Part>& rooms) {
    std::string text;
    int count = 0;
    const auto add = [&](const std::string& first, const std::string& other, Point2 at, const char* kind) {
      text += "      - {name: " + std::string(kind) + " " + std::to_string(++count) + ", between: [" + first +
              ", " + other + "], at_m: " + list({at.x, at.y}) +
              (kind == std::string("window") ? ", width_m: 1, height_m: 1, sill_m: 1, leaf: double glazing}\n"
               : kind == std::string("gap")
                   ? ", width_m: 0.875, height_m: 2, leaf: none}\n"
                   : ", width_m: 0.875, height_m: 2, leaf: " + picked({"timber door", "steel door"}) + "}\n");
    };
    for (std::size_t i = 0; i < rooms.size(); ++i) {
      const std::string name = room_name(rooms_.size(), i);
      for (std::size_t k = i + 1; k < rooms.size(); ++k) {
        const auto shared = shared_line(rooms[i], rooms[k]);
        if (length(shared) < 1.5 || one_in(3)) continue;
        add(name, room_name(rooms_.size(), k), middle(shared), one_in(4) ? "gap" : "door");
      }
      const bool bottom = rooms[i].corner.y == house_.corner.y;
      if (bottom && !one_in(3))
        add(name, "outside", {rooms[i].corner.x + rooms[i].width_m / 2, rooms[i].corner.y},
            one_in(3) ? "door" : "window");
    }
    if (!text.empty()) text_ += "    openings:\n" + text;
  }

  static Point2 middle(const Segment2& line) {
    return {std::round(4 * (line.a.x + line.b.x)) / 8, std::round(4 * (line.a.y + line.b.y)) / 8};
  }

  static Segment2 shared_line(const Part& one, const Part& other) {
    const double left = std::max(one.corner.x, other.corner.x), right = std::min(one.far().x, other.far().x);
    const double low = std::max(one.corner.y, other.corner.y), high = std::min(one.far().y, other.far().y);
    if (left == right && low < high) return {{left, low}, {left, high}};
    if (low == high && left < right) return {{left, low}, {right, low}};
    return {};
  }

  /// Walls that stand alone, outside and in rooms.
  void write_screens(std::size_t storey) {
    const int count = below(3);
    if (count > 0) text_ += "    walls:\n";
    for (int i = 0; i < count; ++i) {
      const Point2 from{eighths(-3, 14), eighths(-3, 10)};
      const Point2 to{from.x + eighths(1, 4), from.y + (one_in(3) ? eighths(0.5, 3) : 0)};
      text_ += "      - {name: " + std::string(storey == 0 ? "low" : "high") + " screen " +
               std::to_string(i + 1) + ", from_m: " + list({from.x, from.y}) +
               ", to_m: " + list({to.x, to.y}) +
               ", material: " + picked({"corrugated steel wall", "stud wall"}) +
               (one_in(2) ? ", height_m: 1.5" : "") + "}\n";
      lines_.push_back({from, to});
    }
  }

  void write_obstacle(const std::vector<Part>& rooms) {
    const Part& room = rooms[static_cast<std::size_t>(below(static_cast<int>(rooms.size())))];
    if (one_in(2) || room.width_m < 2.5 || room.depth_m < 2.5) return;
    const Part thing{{room.corner.x + 0.5, room.corner.y + 0.75}, 1, 0.5};
    text_ += "    obstacles:\n      - {name: " + std::string(rooms_.empty() ? "low" : "high") +
             " rack, rect_m: " + list({thing.corner.x, thing.corner.y, thing.width_m, thing.depth_m}) +
             ", height_m: " + number(eighths(1, 2.25)) + ", material: steel rack}\n";
    add_walls(thing);
    things_.push_back(thing);
  }

  /// In a room or outside, clear of every line of every storey.
  Point2 free_place() {
    while (true) {
      const Point2 at{eighths(house_.corner.x - 4, house_.far().x + 4) + 1.0 / 16,
                      eighths(house_.corner.y - 4, house_.far().y + 4) + 1.0 / 16};
      const bool clear = std::ranges::all_of(
          lines_, [&](const Segment2& line) { return distance_to_segment(at, line) >= kClearOfWallsM; });
      const bool in_thing = std::ranges::any_of(things_, [&](const Part& thing) {
        return at.x > thing.corner.x && at.x < thing.far().x && at.y > thing.corner.y && at.y < thing.far().y;
      });
      if (clear && !in_thing) return at;
    }
  }

  void write_radio(const std::string& name, const std::string& profile, int storeys,
                   const std::string& more) {
    const Point2 at = free_place();
    text_ += "  " + name + ": {profile: " + profile +
             ", storey: " + (below(storeys) == 0 ? "ground" : "upper") + ", at_m: " + list({at.x, at.y}) +
             ", height_m: " + number(eighths(0.5, 2.25)) + more + "}\n";
  }

  void write_radios(int storeys) {
    text_ += "hubs:\n";
    write_radio("hub", "hub", storeys, ", capacity: 20");
    if (one_in(3)) write_radio("hub two", "hub", storeys, "");
    if (one_in(3)) {
      text_ += "repeaters:\n";
      write_radio("relay", "repeater", storeys, "");
    }
    text_ += "devices:\n";
    const int devices = 3 + below(4);
    for (int i = 0; i < devices; ++i)
      write_radio("device " + std::to_string(i + 1),
                  picked({"contact", "motion", "smoke", "keypad", "siren"}), storeys,
                  one_in(5) ? ", mount_loss_db: 4" : "");
    if (!one_in(3)) return;
    text_ += "areas:\n  lawn: {profile: fob, storey: ground, corners_m: [" +
             list({house_.corner.x, house_.corner.y - 6}) + ", " +
             list({house_.far().x, house_.corner.y - 6}) + ", " +
             list({house_.far().x, house_.corner.y - 1}) + ", " +
             list({house_.corner.x, house_.corner.y - 1}) + "], height_m: 1}\n";
  }

  RandomStream random_;
  std::uint64_t drawn_ = 0;
  std::string text_;
  Part house_;
  std::vector<std::vector<Part>> rooms_;  // by storey
  std::vector<Segment2> lines_;           // of walls and things, of all storeys
  std::vector<Part> things_;
};

}  // namespace

std::string random_site_text(std::uint64_t seed) {
  return Writer(seed).written();
}

}  // namespace properties
