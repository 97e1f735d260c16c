#include "linkmargin/yaml/short_form/radio_places.hpp"

#include "linkmargin/base/joined.hpp"
#include "linkmargin/base/nearest_name.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/site/layout/length_text.hpp"
#include "linkmargin/site/layout/opening_frame.hpp"
#include "linkmargin/site/layout/room_spot.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/site/wall_plan.hpp"
#include "linkmargin/yaml/tree/unit_hint.hpp"

#include <algorithm>
#include <set>

namespace linkmargin::yaml {
namespace {

class PlaceCompleter {
 public:
  PlaceCompleter(const Cursor& radio, const RadioPlaceKeys& keys, const std::string& profile,
                 const PlaceIndex& index, ObjectReader& reader, Placement& place, Faults& faults)
      : radio_(radio),
        keys_(keys),
        profile_(profile),
        index_(index),
        site_(index.site()),
        reader_(reader),
        place_(place),
        faults_(faults) {}

  void complete() {
    if (!check_keys() || site_.storeys.empty()) return;
    if (!storey_known() && (keys_.room || keys_.opening)) return;  // told where it is read
    if (keys_.opening) {
      hang_on_opening();
    } else if (keys_.room) {
      hang_in_room();
    } else {
      take_only_storey();
    }
    if (!given("height_m") && reader_.sound()) take_height();
  }

 private:
  bool given(std::string_view key) const { return find(radio_.node(), key) != nullptr; }

  bool storey_known() const {
    const Node* storey = find(radio_.node(), "storey");
    return storey == nullptr ||
           std::ranges::any_of(site_.storeys, [&](const Storey& one) { return one.name == storey->text; });
  }

  bool check_keys() {
    if (!keys_.room && !keys_.opening) {
      if (keys_.spot)
        reader_.fault(DiagnosticCode::conflicting_keys, "at", "goes with in or on", "coordinates take at_m");
      if (!given("at_m")) reader_.missing({"at_m", "in", "on"});
      return given("at_m");
    }
    for (const std::string_view key : {"in", "on"}) {
      if (!given("at_m") || !given(key)) continue;
      reader_.fault(DiagnosticCode::conflicting_keys, key, "stands beside at_m",
                    "give the place by coordinates, or by what it hangs at");
      return false;
    }
    return true;
  }

  void take_only_storey() {
    if (given("storey")) return;
    if (site_.storeys.size() > 1) reader_.missing({"storey"});
  }

  /// Where a room or an opening of this name is, or nothing and a fault.
  std::optional<PlaceIndex::Entry> entry_of(const Cursor& name_at, const std::string& name, const char* what,
                                            const PlaceIndex::Names& names) {
    std::vector<PlaceIndex::Entry> found;
    const auto [first, last] = names.equal_range(name);
    for (auto it = first; it != last; ++it) {
      if (!given("storey") || it->second.storey == place_.storey) found.push_back(it->second);
    }
    if (found.empty()) {
      report_unknown(name_at, name, what, names);
      return {};
    }
    const auto least = std::ranges::min_element(found, {}, &PlaceIndex::Entry::position);
    std::set<std::size_t> storeys;
    for (const PlaceIndex::Entry& entry : found) storeys.insert(entry.storey);
    if (storeys.size() == 1) return *least;
    std::vector<std::string> texts;
    for (const std::size_t storey : storeys) texts.push_back(site_.storeys[storey].name);
    add_fault(
        name_at, DiagnosticCode::impossible,
        "there is more than one " + std::string(what) + " " + quoted(name) + ": on storeys " + joined(texts),
        "say which storey", faults_);
    return {};
  }

  void report_unknown(const Cursor& name_at, const std::string& name, const char* what,
                      const PlaceIndex::Names& names) {
    std::vector<std::string> known;
    if (!faults_.full()) {
      for (const auto& [other, entry] : names) {
        if (!given("storey") || entry.storey == place_.storey) known.emplace_back(other);
      }
      std::ranges::sort(known);
    }
    const std::string where =
        given("storey") ? " on storey " + quoted(site_.storeys[place_.storey].name) : std::string();
    add_fault(name_at, DiagnosticCode::unknown_name,
              "unknown " + std::string(what) + " " + quoted(name) + where, nearest_hint(name, known),
              faults_);
  }

  void hang_in_room() {
    const auto name = read_name(*keys_.room, faults_);
    if (!name) return;
    const auto at = entry_of(*keys_.room, *name, "room", index_.rooms());
    if (!at) return;
    place_.storey = at->storey;
    const Room& room = site_.storeys[at->storey].rooms[at->position];
    if (index_.measures(at->storey).unplaced.contains(*name)) return faults_.doubt(radio_.pointer());
    const layout::Inset inset = index_.measures(at->storey).inset(*name);
    if (!keys_.spot) {
      if (hangs_from_ceiling()) {
        put(layout::place_of(layout::Centre{}, room.corners, inset), room);
      } else {
        reader_.missing({"at"});
      }
    } else if (keys_.spot->node().kind == Node::Kind::sequence) {
      put_at_point(room, inset);
    } else {
      put_at_words(room, inset);
    }
  }

  bool hangs_from_ceiling() const {
    const auto found = site_.profiles.find(profile_);
    return found != site_.profiles.end() && found->second.below_ceiling_m.has_value();
  }

  void put(const std::variant<Point2, std::string>& place, const Room& room) {
    if (const auto* at = std::get_if<Point2>(&place)) {
      place_.at = snapped(*at);
    } else {
      add_fault(*keys_.spot, DiagnosticCode::misplaced,
                quoted(room.name) + " " + std::get<std::string>(place), "", faults_);
    }
  }

  void put_at_words(const Room& room, const layout::Inset& inset) {
    const auto text = read_text(*keys_.spot, faults_);
    if (!text) return;
    const auto spot = layout::parse_room_spot(*text);
    if (spot) return put(layout::place_of(*spot, room.corners, inset, site_.units.length), room);
    std::string hint = "expected " + std::string(layout::room_spot_forms());
    const std::string with_points = points_for_commas(*text);
    const std::string with_units = units_behind(with_points);
    if (with_points != *text && layout::parse_room_spot(with_points)) {
      hint = "did you mean " + quoted(with_points, '"') + "? decimals take a point";
    } else if (layout::parse_room_spot(with_units)) {
      hint = "did you mean " + quoted(with_units, '"') + "? a length takes its unit";
    }
    add_fault(*keys_.spot, DiagnosticCode::unknown_word, "no place in a room reads " + quoted(*text, '"'),
              hint, faults_);
  }

  /// "60 from left" as "0.6 m from left": what no room is wide are centimetres.
  static std::string units_behind(const std::string& text) {
    constexpr double widest_m = 30;  // common practice
    std::string with_units;
    for (std::size_t from = 0; from < text.size();) {
      const std::size_t end = std::min(text.find(' ', from), text.size());
      std::string word = text.substr(from, end - from);
      const auto figure = parse_number(word);
      if (figure && text.substr(end).starts_with(" from"))
        word = shortest_text(*figure > widest_m ? *figure / 100 : *figure) + " m";
      with_units += (with_units.empty() ? "" : " ") + word;
      from = end + 1;
    }
    return with_units;
  }

  /// "0,6 m from left" with a point between the figures.
  static std::string points_for_commas(std::string text) {
    const auto is_figure = [](char letter) { return letter >= '0' && letter <= '9'; };
    for (std::size_t i = 1; i + 1 < text.size(); ++i) {
      if (text[i] == ',' && is_figure(text[i - 1]) && is_figure(text[i + 1])) text[i] = '.';
    }
    return text;
  }

  void put_at_point(const Room& room, const layout::Inset& inset) {
    const Cursor& list = *keys_.spot;
    const std::vector<Node>& items = list.node().items;
    if (items.size() != 2) {
      add_fault(list, DiagnosticCode::wrong_count,
                "expected [x, y], found " + std::to_string(items.size()) +
                    (items.size() == 1 ? " value" : " values"),
                split_list_hint(list.node(), 2), faults_);
      return;
    }
    const auto x = read_length(Cursor::at_item(list, 0, items[0]), limits::kSpotM, faults_);
    const auto y = read_length(Cursor::at_item(list, 1, items[1]), limits::kSpotM, faults_);
    if (!x || !y) return;
    const Box2 box = bounding_box(layout::as_typed(room.corners));
    const Point2 at = snapped(Point2{box.min.x + inset.left_m + *x, box.min.y + inset.bottom_m + *y});
    if (contains(room.corners, at) || distance_to_edges(room.corners, at) <= layout::kCloseEnoughM) {
      place_.at = at;
      return;
    }
    add_fault(list, DiagnosticCode::misplaced,
              "this place lies outside " + quoted(room.name) + ", which is " +
                  length_text(box.max.x - box.min.x - inset.left_m - inset.right_m, list.node().length_unit) +
                  " wide and " +
                  length_text(box.max.y - box.min.y - inset.bottom_m - inset.top_m, list.node().length_unit) +
                  " deep",
              "x and y count from the room's lower left corner", faults_);
  }

  void hang_on_opening() {
    const auto name = read_name(*keys_.opening, faults_);
    const auto side = name ? frame_side() : std::nullopt;
    if (!name || (keys_.spot && !side && !over_)) return;
    const auto at = entry_of(*keys_.opening, *name, "opening", index_.openings());
    if (!at) return;
    place_.storey = at->storey;
    const Storey& on = site_.storeys[at->storey];
    opening_ = &on.openings[at->position];
    const auto& plan = index_.measures(at->storey).plan;
    const auto host = locate_opening(plan, on, at->position);
    if (!host) {
      faults_.doubt(radio_.pointer());  // that the opening is on no wall is told where it is typed
      return;
    }
    const auto room = room_of(on);
    if (!room) return;
    const Room* inside = find_room(on, *room);
    const Room* beside = inside == nullptr ? find_room(on, opening_->first) : inside;
    const Polygon2 no_room;
    const WallPiece& wall = plan[host->piece];
    const auto place =
        layout::frame_place({.opening = *opening_,
                             .wall = wall.line,
                             .room = beside == nullptr ? no_room : beside->corners,
                             .beyond = inside == nullptr,
                             .inset = index_.measures(at->storey).inset(*room),
                             .wall_m = wall.construction ? wall.construction->thickness_m.value_or(0) : 0,
                             .side = side,
                             .over = over_});
    if (const auto* point = std::get_if<Point2>(&place)) {
      place_.at = snapped(*point);
    } else {
      add_fault(keys_.spot ? *keys_.spot : *keys_.opening, DiagnosticCode::misplaced,
                std::get<std::string>(place), "", faults_);
    }
  }

  static const Room* find_room(const Storey& storey, const std::string& name) {
    const auto found = std::ranges::find(storey.rooms, name, &Room::name);
    return found == storey.rooms.end() ? nullptr : &*found;
  }

  std::optional<layout::Side> frame_side() {
    if (!keys_.spot) return {};
    const auto word = read_name(*keys_.spot, faults_);
    if (!word) return {};
    over_ = *word == "over";
    if (over_) return {};
    for (const auto& side : layout::kSideWords) {
      if (side.word == *word) return side.meaning;
    }
    add_fault(*keys_.spot, DiagnosticCode::unknown_word,
              "expected left, right, bottom or top of the opening, or over it, found " + quoted(*word, '"'),
              "", faults_);
    return {};
  }

  /// The room on whose side of the opening it hangs: as `in` says, else the first of the opening's two.
  std::optional<std::string> room_of(const Storey& storey) {
    if (!keys_.room) return opening_->wall.empty() ? opening_->first : std::string(kOutside);
    const auto name = read_name(*keys_.room, faults_);
    if (!name) return {};
    if (*name == opening_->first || *name == opening_->second) return name;
    const std::vector<std::string> known{opening_->first, opening_->second};
    const bool is_room = find_room(storey, *name) != nullptr;
    add_fault(*keys_.room, is_room ? DiagnosticCode::impossible : DiagnosticCode::unknown_name,
              is_room ? quoted(opening_->name) + " is not in a wall of " + quoted(*name)
                      : "unknown room " + quoted(*name),
              opening_->first.empty() ? "" : "it lies between " + joined(known), faults_);
    return {};
  }

  /// A hand over the opening, or half way to the ceiling where that is nearer.
  static double height_over(const Opening& opening, const Storey& storey) {
    const double head_m = opening.sill_m + opening.height_m;
    return std::min(head_m + layout::kOverFrameM, (head_m + storey.height_m) / 2);
  }

  /// Of the storey on top, where nothing goes on over its walls: such as a siren's usual 3 m on a bungalow.
  double under_eaves_m(double height_m, const Storey& storey) const {
    constexpr double kUnderM = 0.2;  // common practice
    const bool goes_on = std::ranges::any_of(
        site_.storeys, [&](const Storey& other) { return other.level_m > storey.level_m; });
    return goes_on || height_m < storey.height_m ? height_m : layout::rounded_m(storey.height_m - kUnderM);
  }

  /// By the kind of the opening where it goes on the frame, by the profile, or none: then the key is missing.
  void take_height() {
    const auto found = site_.profiles.find(profile_);
    if (found == site_.profiles.end()) return;  // told as an unknown profile
    const Profile& profile = found->second;
    const Storey& storey = site_.storeys[place_.storey];
    if (profile.below_ceiling_m) {
      place_.height_m = layout::rounded_m(storey.height_m - *profile.below_ceiling_m);
    } else if (over_) {
      place_.height_m = layout::rounded_m(height_over(*opening_, storey));
    } else if (opening_ != nullptr && profile.height_m && profile.mounted_on == MountingSurface::frame) {
      const auto& by_kind = index_.measures(place_.storey).contact_m;
      const auto kind = by_kind.find(opening_->name);
      const double wanted_m = kind == by_kind.end() ? *profile.height_m : kind->second;
      place_.height_m = std::clamp(wanted_m, opening_->sill_m, opening_->sill_m + opening_->height_m);
    } else if (profile.height_m) {
      place_.height_m = under_eaves_m(*profile.height_m, storey);
    } else {
      reader_.missing({"height_m"});
    }
  }

  const Cursor& radio_;
  const RadioPlaceKeys& keys_;
  const std::string& profile_;
  const PlaceIndex& index_;
  const Site& site_;
  ObjectReader& reader_;
  Placement& place_;
  Faults& faults_;
  const Opening* opening_ = nullptr;
  bool over_ = false;  // the opening, not at its side
};

}  // namespace

PlaceIndex::PlaceIndex(const Site& site, const std::vector<StoreyMeasures>& measures)
    : site_(site), measures_(measures) {
  const auto note = [](Names& names, const auto& items, std::size_t storey) {
    for (std::size_t i = 0; i < items.size(); ++i) names.emplace(items[i].name, Entry{storey, i});
  };
  for (std::size_t i = 0; i < site.storeys.size(); ++i) {
    note(rooms_, site.storeys[i].rooms, i);
    note(openings_, site.storeys[i].openings, i);
  }
}

void RadioPlaceKeys::take(std::string_view key, const Cursor& value) {
  if (key == "in") room = value;
  if (key == "on") opening = value;
  if (key == "at") spot = value;
}

void complete_place(const Cursor& radio, const RadioPlaceKeys& keys, const std::string& profile,
                    const PlaceIndex& index, ObjectReader& reader, Placement& place, Faults& faults) {
  if (radio.node().kind != Node::Kind::mapping) return;
  PlaceCompleter(radio, keys, profile, index, reader, place, faults).complete();
}

}  // namespace linkmargin::yaml
