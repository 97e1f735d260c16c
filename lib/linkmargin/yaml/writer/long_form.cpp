#include "linkmargin/yaml/writer/long_form.hpp"

#include "linkmargin/site/sheet_side.hpp"
#include "linkmargin/text/text_decoding.hpp"
#include "linkmargin/yaml/site/site_yaml.hpp"
#include "linkmargin/yaml/tree/parse_tree.hpp"
#include "linkmargin/yaml/tree/source_span.hpp"
#include "linkmargin/yaml/writer/field_values.hpp"
#include "linkmargin/yaml/writer/insert_entry.hpp"
#include "linkmargin/yaml/writer/radio_places_text.hpp"

#include <algorithm>
#include <array>
#include <map>

namespace linkmargin {
namespace yaml {
namespace {

NewValue with_shape(NewValue map, const Polygon2& corners) {
  const bool has_rectangle = std::ranges::find(map.entries, "rect_m", &NewEntry::key) != map.entries.end();
  if (!has_rectangle)
    map.entries.insert(map.entries.begin(), NewEntry{"corners_m", literal_value(corners_text(corners))});
  return map;
}

/// A noun that has a shape, and a key that goes before it.
template <typename Noun>
NewValue shape_behind(std::string_view first_key, const Noun& noun) {
  NewValue map = with_shape(noun_value(noun), noun.corners);
  const auto first = std::ranges::find(map.entries, first_key, &NewEntry::key);
  std::rotate(map.entries.begin(), first, first + 1);
  return map;
}

NewValue between(const std::string& first, const std::string& second) {
  NewValue list{NewValue::Kind::list};
  list.items = {name_value(first), name_value(second)};
  return list;
}

NewValue boundary_value(const Boundary& boundary) {
  NewValue map = construction_value(boundary.construction);
  map.entries.insert(map.entries.begin(), NewEntry{"between", between(boundary.first, boundary.second)});
  return map;
}

NewValue opening_value(const Opening& opening) {
  NewValue map = noun_value(opening);
  if (opening.wall.empty())
    map.entries.insert(map.entries.begin() + 1, NewEntry{"between", between(opening.first, opening.second)});
  return map;
}

/// "left wall, 0.4 m from bottom", or a map with its place.
NewValue socket_value(const Socket& socket) {
  if (const auto* at = std::get_if<Point2>(&socket)) {
    NewValue map{NewValue::Kind::map};
    map.entries.push_back({"at_m", literal_value(point_text(*at))});
    return map;
  }
  const auto& spot = std::get<WallSpot>(socket);
  const auto side = [](SheetSide of) { return std::string(side_word(of)); };
  return name_value(side(spot.wall) + " wall, " + shortest_text(spot.distance_m) + " m from " +
                    side(spot.from));
}

NewValue room_value(const Room& room) {
  NewValue map = with_shape(noun_value(room), room.corners);
  if (!room.sockets) return map;
  NewValue list{NewValue::Kind::list};
  for (const Socket& socket : *room.sockets) list.items.push_back(socket_value(socket));
  map.entries.push_back({"sockets", std::move(list)});
  return map;
}

/// A storey in lines.
class StoreyLines {
 public:
  StoreyLines(const Storey& storey, LengthUnit unit) : storey_(storey), unit_(unit) {}

  std::string text() {
    line("- name: " + scalar_text(storey_.name), 2);
    entry({"level_m", literal_value(shortest_text(storey_.level_m))});
    entry({"height_m", literal_value(shortest_text(storey_.height_m))});
    construction("floor", storey_.floor);
    construction("roof", storey_.roof);
    construction("outer_wall", storey_.outer_wall);
    construction("inner_wall", storey_.inner_wall);
    rooms();
    list("boundaries", storey_.boundaries, boundary_value);
    list("walls", storey_.walls, [](const TracedWall& wall) { return noun_value(wall); });
    list("openings", storey_.openings, opening_value);
    list("obstacles", storey_.obstacles, [](const Obstacle& one) { return shape_behind("name", one); });
    list("floor_openings", storey_.floor_openings,
         [](const FloorOpening& one) { return shape_behind("name", one); });
    return std::move(text_);
  }

 private:
  void line(const std::string& text, std::size_t indent = 4) {
    text_ += "\n" + std::string(indent, ' ') + text;
  }

  void entry(NewEntry one, std::size_t indent = 4) {
    line(flow_text(with_length_unit(std::move(one), unit_), Quotes::as_needed), indent);
  }

  void construction(const char* key, const std::optional<Construction>& made) {
    if (made && !made->material.empty()) entry({key, construction_value(*made)});
  }

  void rooms() {
    if (storey_.rooms.empty()) return;
    line("rooms:");
    for (const Room& room : storey_.rooms) {
      entry({room.name, room_value(room)}, 6);
    }
  }

  template <typename Noun, typename Value>
  void list(const char* key, const std::vector<Noun>& nouns, Value value) {
    if (nouns.empty()) return;
    line(std::string(key) + ":");
    for (const Noun& noun : nouns)
      line("- " + flow_text(with_length_unit({key, value(noun)}, unit_).value, Quotes::as_needed), 6);
  }

  const Storey& storey_;
  LengthUnit unit_;  // of the file
  std::string text_;
};

/// Keys of the top level that the long form says at each storey, or needs no more.
constexpr std::array<std::string_view, 4> kOfTheHouse{"construction", "outer_wall", "inner_wall", "measured"};

/// A key of the top level with all that belongs to it, as whole lines.
std::optional<Splice> section_splice(std::string_view text, const Entry& section, const std::string& lines) {
  const auto end = value_end(text, section);
  if (!end) return {};
  const std::size_t begin = line_begin(text, section.begin);
  return Splice{begin, line_end(text, *end) - begin, lines};
}

class Expander {
 public:
  Expander(std::string_view text, const Node& root, const Site& site)
      : text_(text), root_(root), site_(site) {}

  std::optional<std::vector<Splice>> splices() {
    if (root_.flow) return {};
    for (const Entry& section : root_.entries) {
      if (std::ranges::find(kOfTheHouse, section.key) != kOfTheHouse.end()) remove(section);
      if (section.key == "storeys") put(section, storeys());
      if (section.key == "hubs") radios(section, site_.hubs);
      if (section.key == "repeaters") radios(section, site_.repeaters);
      if (section.key == "devices") radios(section, site_.devices);
      if (section.key == "areas") areas(section);
    }
    return sound_ ? std::optional(std::move(splices_)) : std::nullopt;
  }

 private:
  void put(const Entry& section, const std::string& lines) {
    auto splice = section_splice(text_, section, lines);
    sound_ = sound_ && splice;
    if (splice) splices_.push_back(std::move(*splice));
  }

  void remove(const Entry& section) {
    auto splice = section_splice(text_, section, "");
    sound_ = sound_ && splice;
    if (!splice) return;
    if (splice->position + splice->length < text_.size()) ++splice->length;  // the line end
    splices_.push_back(std::move(*splice));
  }

  std::string storeys() const {
    std::string lines = "storeys:";
    for (const Storey& storey : site_.storeys) lines += StoreyLines(storey, root_.length_unit).text();
    return lines;
  }

  template <typename Radio>
  void radios(const Entry& section, const std::vector<Radio>& nouns) {
    std::map<std::string_view, const Radio*> by_name;
    for (const Radio& noun : nouns) by_name.emplace(noun.name, &noun);
    for (const Entry& entry : section.value.entries) {
      if (!is_short_radio(entry.value)) continue;
      const Radio& noun = *by_name.at(entry.key);
      auto found = long_radio(text_, section.value, entry, noun.profile, noun.place, site_);
      sound_ = sound_ && found;
      if (found) splices_.insert(splices_.end(), found->begin(), found->end());
    }
  }

  /// Those that are rooms, or lie beside one, with their shape.
  void areas(const Entry& section) {
    for (const Entry& entry : section.value.entries) {
      const auto given = [&](std::string_view key) { return find(entry.value, key) != nullptr; };
      if (!given("in") && !given("size_m")) continue;
      const Area& area = *std::ranges::find(site_.areas, entry.key, &Area::name);
      NewValue map = shape_behind("profile", area);
      map.entries.insert(map.entries.begin() + 1, {"storey", name_value(site_.storeys[area.storey].name)});
      for (NewEntry& part : map.entries) part = with_length_unit(std::move(part), root_.length_unit);
      auto found = replace_entry(text_, section.value, entry, {entry.key, std::move(map)});
      sound_ = sound_ && found;
      if (found) splices_.insert(splices_.end(), found->begin(), found->end());
    }
  }

  std::string_view text_;
  const Node& root_;
  const Site& site_;
  bool sound_ = true;
  std::vector<Splice> splices_;
};

Diagnostics cannot_expand(const std::string& file, const std::string& why) {
  Diagnostic fault;
  fault.file = file;
  fault.message = "this file cannot be written in the long form" + why;
  fault.hint = "write it in the plain form of the examples, a section a line, and try again";
  fault.code = DiagnosticCode::unwritable_edit;
  return {std::move(fault)};
}

}  // namespace
}  // namespace yaml

Result<std::string> long_form(std::string_view text, const std::string& file_name, const Tables& tables) {
  const auto site = parse_site(text, file_name, tables);
  if (!site) return site.error();
  Faults ignored("");
  const auto decoded = decoded_text(text, ignored);
  const auto root = decoded ? yaml::parse_tree(*decoded, ignored) : std::nullopt;
  auto splices = root ? yaml::Expander(*decoded, *root, *site).splices() : std::nullopt;
  if (!splices) return yaml::cannot_expand(file_name, "");
  std::string bytes = yaml::spliced(text, std::move(*splices));
  const auto again = parse_site(bytes, file_name, tables);
  if (!again) return yaml::cannot_expand(file_name, ": it would read " + again.error().front().message);
  Site same = *site;
  for (Storey& storey : same.storeys) {
    storey.closed_sizes.clear();
    for (Room& room : storey.rooms) room.clear_m.reset();
  }
  if (*again != same) return yaml::cannot_expand(file_name, " without a change of what it says");
  return bytes;
}

}  // namespace linkmargin
