#include "key_tables.hpp"

#include "linkmargin/base/joined.hpp"
#include "linkmargin/site/edit/edit.hpp"
#include "linkmargin/site/site.hpp"
#include "linkmargin/yaml/short_form/usual_tables.hpp"
#include "linkmargin/yaml/site/tables.hpp"

#include "field_row.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <stdexcept>

namespace linkmargin::schema {
namespace {

constexpr std::string_view kBegin = "<!-- keys: ";
constexpr std::string_view kEnd = "<!-- end of keys -->";

/// A column of a table: its head and the text of a row in it.
struct Column {
  std::string_view head;
  std::string FieldRow::*text;
};

/// A table in Markdown; a column in which nothing stands is left out.
std::string markdown(std::vector<FieldRow> rows) {
  for (FieldRow& row : rows) row.key = "`" + row.key + "`";
  std::vector<Column> columns{{"key", &FieldRow::key},
                              {"unit", &FieldRow::unit},
                              {"range", &FieldRow::range},
                              {"default", &FieldRow::absent},
                              {"meaning", &FieldRow::meaning}};
  std::erase_if(columns, [&](const Column& column) {
    return std::ranges::all_of(rows, [&](const FieldRow& row) { return (row.*column.text).empty(); });
  });
  std::string head = "|";
  std::string rule = "|";
  for (const Column& column : columns) {
    head += " " + std::string(column.head) + " |";
    rule += "---|";
  }
  std::string text = head + "\n" + rule + "\n";
  for (const FieldRow& row : rows) {
    text += "|";
    for (const Column& column : columns)
      text += " " + row.*column.text + (row.*column.text == "" ? "|" : " |");
    text += "\n";
  }
  return text;
}

/// The keys of several nouns in one table: a key that not all of them have says whose it is.
struct NamedRows {
  std::string noun;
  std::vector<FieldRow> rows;
};

std::vector<FieldRow> merged(const std::vector<NamedRows>& nouns) {
  std::vector<std::pair<FieldRow, std::vector<std::string>>> found;
  for (const NamedRows& of : nouns) {
    for (const FieldRow& row : of.rows) {
      const auto same = std::ranges::find_if(found, [&](const auto& entry) { return entry.first == row; });
      if (same != found.end()) {
        same->second.push_back(of.noun);
      } else {
        found.push_back({row, {of.noun}});
      }
    }
  }
  std::vector<FieldRow> rows;
  for (auto& [row, whose] : found) {
    if (whose.size() < nouns.size()) {
      row.meaning = joined(whose) + ": " + row.meaning;
    }
    rows.push_back(row);
  }
  return rows;
}

/// What edits can set: the keys by the place that they are in.
std::string edit_table() {
  std::vector<std::pair<std::string, std::vector<std::string>>> places;
  for (const std::string& path : editable_paths()) {
    std::string place = path.substr(0, path.rfind('/'));
    for (std::size_t star = place.find('*'); star != std::string::npos; star = place.find('*'))
      place.replace(star, 1, "NAME");
    if (places.empty() || places.back().first != place) places.push_back({place, {}});
    places.back().second.push_back("`" + path.substr(path.rfind('/') + 1) + "`");
  }
  std::string text = "| path | keys |\n|---|---|\n";
  for (const auto& [place, keys] : places) text += "| `" + place + "` | " + joined(keys) + " |\n";
  return text;
}

std::string made_text(const Construction& made) {
  return made.material + (made.thickness_m ? " " + shortest_text(*made.thickness_m) + " m" : "");
}

std::string kind_table() {
  std::string text =
      "| kind | width, m | sill, m | height, m | leaf | opens | contact at, m | source "
      "|\n|---|---|---|---|---|---|---|---|\n";
  for (const auto& [name, kind] : opening_kinds()) {
    text += "| `" + name + "` | " + shortest_text(kind.width_m) + " | " + shortest_text(kind.sill_m) + " | " +
            shortest_text(kind.height_m) + " | " + made_text(kind.leaf) + " | " +
            (kind.opens ? "on" : "off") + " | " + shortest_text(kind.contact_m) + " | " + kind.source +
            " |\n";
  }
  return text;
}

std::string construction_table() {
  std::string text =
      "| construction | outer walls | inner walls | ground floor | other floors | roof | source "
      "|\n|---|---|---|---|---|---|---|\n";
  for (const auto& [name, built] : house_constructions()) {
    text += "| `" + name + "`";
    for (const Construction& made :
         {built.outer_wall, built.inner_wall, built.ground_floor, built.floor, built.roof})
      text += " | " + made_text(made);
    text += " | " + built.source + " |\n";
  }
  return text;
}

/// The heights at which built-in profiles are usually fixed.
std::string height_table() {
  std::string text = "| profile | usual height |\n|---|---|\n";
  for (const auto& [name, profile] : embedded_tables().profiles) {
    if (profile.height_m) text += "| `" + name + "` | " + shortest_text(*profile.height_m) + " m |\n";
    if (profile.below_ceiling_m)
      text += "| `" + name + "` | " + shortest_text(*profile.below_ceiling_m) + " m under the ceiling |\n";
  }
  return text;
}

std::map<std::string, std::string> tables() {
  return {
      {"site", markdown(rows<Site>())},
      {"radio", markdown(rows<PropagationSettings>())},
      {"fading", markdown(rows<Fading>())},
      {"reading", markdown(rows<ReadingScale>())},
      {"calibration", markdown(rows<Calibration>())},
      {"learned", markdown(rows<LearnedShift>())},
      {"learned_radio", markdown(rows<LearnedRadio>())},
      {"material", markdown(rows<Material>())},
      {"loss", markdown(rows<LossPoint>())},
      {"electrical", markdown(rows<ElectricalProperties>())},
      {"layer", markdown(rows<Layer>())},
      {"profile", markdown(rows<Profile>())},
      {"storey", markdown(rows<Storey>())},
      {"construction", markdown(rows<Construction>())},
      {"room", markdown(rows<Room>())},
      {"wall", markdown(merged({{"boundary", rows<Boundary>()}, {"traced wall", rows<TracedWall>()}}))},
      {"opening", markdown(rows<Opening>())},
      {"obstacle", markdown(rows<Obstacle>())},
      {"floor opening", markdown(rows<FloorOpening>())},
      {"hub, repeater, device",
       markdown(merged({{"hub", rows<Hub>()}, {"repeater", rows<Repeater>()}, {"device", rows<Device>()}}))},
      {"mount", markdown(rows<Mount>())},
      {"may_move", markdown(rows<Mobility>())},
      {"area", markdown(rows<Area>())},
      {"units", markdown(rows<Units>())},
      {"kind of opening", kind_table()},
      {"house", construction_table()},
      {"usual height", height_table()},
      {"edit", edit_table()}};
}

/// One page; the tables that it has are taken from `missing`.
std::string with_tables(const std::string& page, const std::map<std::string, std::string>& made,
                        std::set<std::string>& missing) {
  std::string text;
  std::size_t copied = 0;
  for (std::size_t begin = page.find(kBegin); begin != std::string::npos; begin = page.find(kBegin, copied)) {
    const std::size_t line_end = page.find('\n', begin);
    const std::size_t end = page.find(kEnd, begin);
    if (line_end == std::string::npos || end == std::string::npos)
      throw std::runtime_error("a table of keys has no end");
    const std::size_t name_at = begin + kBegin.size();
    const std::string name = page.substr(name_at, page.find(" -->", name_at) - name_at);
    if (missing.erase(name) == 0)
      throw std::runtime_error("no table of keys is called " + name + ", or it is there twice");
    text += page.substr(copied, line_end + 1 - copied) + "\n" + made.at(name) + "\n";
    copied = end;
  }
  return text + page.substr(copied);
}

}  // namespace

std::vector<std::string> with_key_tables(const std::vector<std::string>& pages) {
  const auto made = tables();
  std::set<std::string> missing;
  for (const auto& [name, table] : made) missing.insert(name);
  std::vector<std::string> texts;
  for (const std::string& page : pages) texts.push_back(with_tables(page, made, missing));
  if (!missing.empty())
    throw std::runtime_error("no page has a place for the table of keys " + *missing.begin());
  return texts;
}

}  // namespace linkmargin::schema
