#include "linkmargin/yaml/short_form/usual_tables.hpp"

#include "linkmargin/base/embedded.hpp"
#include "linkmargin/base/joined.hpp"
#include "linkmargin/base/nearest_name.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/yaml/fields/field_reader.hpp"
#include "linkmargin/yaml/tree/document.hpp"

#include <span>
#include <stdexcept>

namespace linkmargin {
namespace {

template <typename Noun>
std::map<std::string, Noun> read_usual(std::span<const std::string_view> parts, const char* section,
                                       const char* file) {
  Faults faults(file);
  std::map<std::string, Noun> rows;
  const auto root = yaml::parse_document(joined(parts, ""), faults);
  if (root) {
    const yaml::Cursor top(*root);
    yaml::ObjectReader reader(top, "", faults);
    if (const auto map = reader.need(section)) {
      yaml::for_each_named(*map, limits::kTableRows, faults,
                           [&](const yaml::Cursor& cursor, const yaml::Entry& entry) {
                             rows.emplace(entry.key, yaml::read_noun<Noun>(cursor, entry.key, faults));
                           });
    }
    reader.finish();
  }
  if (!faults.empty())
    throw std::logic_error("a built-in table is faulty: " + to_text(std::move(faults).sorted().front()));
  return rows;
}

template <typename Rows>
const typename Rows::mapped_type* find_row(const Rows& rows, const yaml::Cursor& cursor, const char* what,
                                           Faults& faults) {
  const auto name = yaml::read_name(cursor, faults);
  if (!name) return nullptr;
  const auto found = rows.find(*name);
  if (found != rows.end()) return &found->second;
  std::vector<std::string> known;
  for (const auto& [row, value] : rows) known.push_back(row);
  const std::string near = nearest_hint(*name, known);
  yaml::add_fault(cursor, DiagnosticCode::unknown_name, "unknown " + std::string(what) + " " + quoted(*name),
                  near.empty() ? "known are: " + joined(known) : near, faults);
  return nullptr;
}

}  // namespace

const layout::OpeningKinds& opening_kinds() {
  static const auto rows =
      read_usual<layout::OpeningKind>(embedded::opening_kinds(), "opening_kinds", "opening-kinds.yaml");
  return rows;
}

const layout::HouseConstructions& house_constructions() {
  static const auto rows =
      read_usual<layout::HouseConstruction>(embedded::constructions(), "constructions", "constructions.yaml");
  return rows;
}

namespace yaml {

const layout::OpeningKind* read_opening_kind(const Cursor& name, Faults& faults) {
  return find_row(opening_kinds(), name, "kind of opening", faults);
}

const layout::HouseConstruction* read_house(const Cursor& name, Faults& faults) {
  return find_row(house_constructions(), name, "construction", faults);
}

}  // namespace yaml
}  // namespace linkmargin
