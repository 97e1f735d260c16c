#include "linkmargin/yaml/what_if/case_yaml.hpp"

#include "linkmargin/base/nearest_name.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/yaml/fields/field_reader.hpp"
#include "linkmargin/yaml/fields/shapes_yaml.hpp"
#include "linkmargin/yaml/site/radios_yaml.hpp"
#include "linkmargin/yaml/tree/values.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <map>
#include <utility>
#include <vector>

namespace linkmargin::yaml {
namespace {

/// The switch that a word writes, as read_flag() takes it; nothing for any other word.
std::optional<bool> switch_of(const Node& node) {
  if (node.quoted) return {};
  std::string word = node.text;
  std::ranges::transform(word, word.begin(),
                         [](unsigned char letter) { return static_cast<char>(std::tolower(letter)); });
  constexpr std::array on{"true", "yes", "on"};
  constexpr std::array off{"false", "no", "off"};
  if (std::ranges::find(on, word) != on.end()) return true;
  if (std::ranges::find(off, word) != off.end()) return false;
  return {};
}

/// What is added, by the table of its keys.
template <typename Noun>
Noun read_new(ObjectReader& reader, Faults& faults) {
  Noun noun{};
  const FieldContext context{faults, nullptr, false};
  read_fields(reader, noun, context, [&](std::string_view, const Cursor& capacity) {
    if constexpr (requires { noun.capacity; }) noun.capacity = read_capacity(capacity, faults);
  });
  return noun;
}

/// Where each edit is written: by its path.
using Places = std::multimap<std::string, std::pair<Mark, std::string>>;

/// Edits on their way out of one case.
struct CaseEdits {
  const Site& site;
  std::vector<Edit> edits;
  Places places;

  void add(std::string path, EditValue value, Mark mark, std::string pointer) {
    places.emplace(path, std::pair(mark, std::move(pointer)));
    edits.push_back({std::move(path), std::move(value)});
  }
};

/// A value of `set`, which may be a whole hub or repeater.
std::optional<EditValue> read_set_value(const Cursor& cursor, Faults& faults) {
  if (cursor.node().kind != Node::Kind::mapping) return read_plain_value(cursor, faults);
  ObjectReader reader(cursor, "the new radio", faults);
  const auto radio = read_new<NewRadio>(reader, faults);
  reader.finish();
  return EditValue{radio};
}

void read_set(const Cursor& set, CaseEdits& made, Faults& faults) {
  if (!expect(set, Node::Kind::mapping, "a map of edits", faults)) return;
  report_repeats(set, "edit", faults);
  for (const Entry& entry : set.node().entries) {
    if (auto value = read_set_value(Cursor::at_key(set, entry.key, entry.value), faults))
      made.add(entry.key, std::move(*value), entry.mark, set.pointer_to(entry.key));
  }
}

/// A radio by name, with the section that it stands in.
struct Movable {
  std::string section;
  const Placement* place;
};

std::optional<Movable> movable(const Cursor& move, const Entry& entry, const Site& site, Faults& faults) {
  std::vector<Movable> found;
  std::vector<std::string> known;
  const auto look = [&](const char* section, const auto& radios) {
    for (const auto& radio : radios) {
      known.push_back(radio.name);
      if (radio.name == entry.key) found.push_back({section, &radio.place});
    }
  };
  look("devices", site.devices);
  look("hubs", site.hubs);
  look("repeaters", site.repeaters);
  if (found.size() == 1) return found.front();
  const std::string name = quoted(entry.key);
  if (found.empty()) {
    faults.add(entry.mark, DiagnosticCode::unknown_name, move.pointer_to(entry.key),
               "no device, hub or repeater is called " + name,
               faults.full() ? "" : nearest_hint(entry.key, known));
  } else {
    faults.add(
        entry.mark, DiagnosticCode::unknown_name, move.pointer_to(entry.key),
        name + " is the name of one of the " + found[0].section + " and of one of the " + found[1].section,
        "set /" + found[0].section + "/NAME/at_m instead");
  }
  return {};
}

std::optional<Point2> place_if(ObjectReader& reader, std::string_view key, Faults& faults) {
  const auto cursor = reader.find(key);
  if (!cursor) return {};
  return read_point(*cursor, faults);
}

void read_move(const Cursor& move, CaseEdits& made, Faults& faults) {
  if (!expect(move, Node::Kind::mapping, "a map of devices", faults)) return;
  report_repeats(move, "device", faults);
  for (const Entry& entry : move.node().entries) {
    const Cursor cursor = Cursor::at_key(move, entry.key, entry.value);
    ObjectReader reader(cursor, label("move of", entry.key), faults);
    reader.at_most_one_of({"by_m", "at_m"});
    reader.at_most_one_of({"up_m", "height_m"});
    const auto by = place_if(reader, "by_m", faults);
    const auto at = place_if(reader, "at_m", faults);
    const auto up_m = reader.number_if("up_m", kUpM);
    const auto height_m = reader.number_if("height_m", limits::kRadioHeightM);
    const auto storey = reader.name_if("storey");
    if (!by && !at && !up_m && !height_m && !storey)
      reader.missing({"by_m", "at_m", "up_m", "height_m", "storey"});
    reader.finish();
    const auto radio = movable(move, entry, made.site, faults);
    if (!radio || !reader.sound()) continue;
    const std::string path = "/" + radio->section + "/" + pointer_token(entry.key);
    const auto add = [&](const char* key, EditValue value) {
      made.add(path + key, std::move(value), entry.mark, move.pointer_to(entry.key));
    };
    if (storey) add("/storey", *storey);
    if (at) add("/at_m", *at);
    if (by) add("/at_m", Point2{radio->place->at.x + by->x, radio->place->at.y + by->y});
    if (height_m) add("/height_m", *height_m);
    if (up_m) add("/height_m", radio->place->height_m + *up_m);
  }
}

void read_remove(const Cursor& remove, CaseEdits& made, Faults& faults) {
  for_each_item(remove, limits::kRadios, faults, [&](const Cursor& item) {
    if (item.node().kind == Node::Kind::scalar)
      made.add(item.node().text, Removal{}, item.mark(), item.pointer());
    else
      add_fault(item, DiagnosticCode::wrong_type, "expected the path of what is taken away", {}, faults);
  });
}

/// What is added is told by where: /devices, /hubs, /repeaters, or the obstacles of a storey.
void read_add(const Cursor& add, CaseEdits& made, Faults& faults) {
  if (!expect(add, Node::Kind::mapping, "a map of what is added", faults)) return;
  report_repeats(add, "path", faults);
  for (const Entry& entry : add.node().entries) {
    const Cursor cursor = Cursor::at_key(add, entry.key, entry.value);
    const auto names = pointer_names(entry.key);
    const std::string section = names && !names->empty() ? names->front() : "";
    if (section != "devices" && section != "hubs" && section != "repeaters" && section != "storeys") {
      faults.add(entry.mark, DiagnosticCode::unreachable, add.pointer_to(entry.key),
                 "nothing can be added at \"" + shown(entry.key) + "\"",
                 "paths are /devices/NAME, /hubs/NAME, /repeaters/NAME or /storeys/STOREY/obstacles/NAME");
      continue;
    }
    ObjectReader reader(cursor, label("new", names->back()), faults);
    EditValue value = 0.0;
    if (section == "devices") value = read_new<NewDevice>(reader, faults);
    if (section == "storeys") value = read_new<Obstacle>(reader, faults);
    if (section == "hubs" || section == "repeaters") value = read_new<NewRadio>(reader, faults);
    reader.finish();
    if (reader.sound()) made.add(entry.key, std::move(value), entry.mark, add.pointer_to(entry.key));
  }
}

/// The edit that a fault at a path is about: of that path, of one it lies under, or else of one under it.
Places::const_iterator place_of(const Places& places, const std::string& path) {
  for (std::string part = path; !part.empty(); part.erase(part.rfind('/'))) {
    const auto place = places.find(part);
    if (place != places.end()) return place;
    if (part.find('/') == std::string::npos) break;
  }
  const auto under = places.lower_bound(path + "/");
  return under != places.end() && under->first.starts_with(path + "/") ? under : places.end();
}

/// Faults of the edits where they are written.
void add_edit_faults(const Cursor& self, const CaseEdits& made, const Diagnostics& found, Faults& faults) {
  for (const Diagnostic& fault : found) {
    const auto place = place_of(made.places, fault.path);
    Diagnostic here = fault;
    if (place == made.places.end()) {
      here.message += " (" + fault.path + ")";
      here.path = self.pointer();
      faults.add(self.mark(), std::move(here));
    } else {
      here.path = place->second.second;
      faults.add(place->second.first, std::move(here));
    }
  }
}

}  // namespace

std::optional<EditValue> read_plain_value(const Cursor& cursor, Faults& faults) {
  const Node& node = cursor.node();
  switch (node.kind) {
    case Node::Kind::sequence:
      if (const auto at = read_point(cursor, faults)) return EditValue{*at};
      return {};
    case Node::Kind::mapping:
      add_fault(cursor, DiagnosticCode::wrong_type,
                "expected a number, a text, a switch or [x, y], found a map", {}, faults);
      return {};
    case Node::Kind::scalar:
      if (const auto number = parse_number(node.text); number && !node.quoted) return EditValue{*number};
      if (const auto flag = switch_of(node)) return EditValue{*flag};
      return EditValue{node.text};
    case Node::Kind::nothing:
      add_fault(cursor, DiagnosticCode::missing_key, "expected a value, found nothing", {}, faults);
      return {};
    case Node::Kind::refused:
      return {};
  }
  return {};
}

WhatIfCase read_case(const Cursor& cursor, const Site& site, Faults& faults) {
  ObjectReader reader(cursor, item_label("case", cursor), faults);
  WhatIfCase made;
  made.name = reader.name("name");
  CaseEdits edits{site, {}, {}};
  const auto set = reader.find("set");
  const auto move = reader.find("move");
  const auto remove = reader.find("remove");
  const auto add = reader.find("add");
  const auto doors = reader.find("doors");
  if (set) read_set(*set, edits, faults);
  if (move) read_move(*move, edits, faults);
  if (add) read_add(*add, edits, faults);
  if (remove) read_remove(*remove, edits, faults);
  if (doors) made.doors_open = reader.word_or<bool>("doors", kDoorsWords, false);
  if (!set && !move && !remove && !add && !doors) reader.missing({"set", "move", "remove", "add", "doors"});
  if (reader.sound()) {
    const auto edited = edited_site(site, edits.edits);
    if (!edited) add_edit_faults(cursor, edits, edited.error(), faults);
  }
  reader.finish();
  made.edits = std::move(edits.edits);
  return made;
}

void report_repeated_cases(const Cursor& list, Faults& faults) {
  std::map<std::string_view, Mark> firsts;
  for (std::size_t i = 0; i < list.node().items.size(); ++i) {
    const Cursor item = Cursor::at_item(list, i, list.node().items[i]);
    const std::string_view name = item_name(item.node());
    const auto [first, fresh] = firsts.try_emplace(name, item.mark());
    if (fresh || name.empty()) continue;
    faults.add(item.mark(), DiagnosticCode::given_twice, item.pointer(),
               "there is a case " + quoted(name) + " already, in line " + std::to_string(first->second.line));
  }
}

}  // namespace linkmargin::yaml
