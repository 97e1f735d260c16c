#include "linkmargin/yaml/cases_yaml.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/yaml/document.hpp"
#include "linkmargin/yaml/object_reader.hpp"
#include "linkmargin/yaml/shapes_yaml.hpp"
#include "linkmargin/yaml/values.hpp"

#include <algorithm>
#include <array>
#include <cctype>

namespace linkmargin {
namespace yaml {
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

/// A value by how it is written: a number, a switch, [x, y], a hub or repeater to be added, else a text.
std::optional<EditValue> read_value(const Cursor& cursor, Faults& faults) {
  const Node& node = cursor.node();
  switch (node.kind) {
    case Node::Kind::sequence:
      if (const auto at = read_point(cursor, faults)) return EditValue{*at};
      return {};
    case Node::Kind::mapping: {
      ObjectReader reader(cursor, "the new radio", faults);
      NewRadio radio;
      radio.profile = reader.name("profile");
      radio.storey = reader.name("storey");
      radio.at = read_point(reader, "at_m", faults);
      radio.height_m = reader.number("height_m", limits::kRadioHeightM);
      reader.finish();
      return EditValue{radio};
    }
    case Node::Kind::scalar:
      if (const auto number = parse_number(node.text); number && !node.quoted) return EditValue{*number};
      if (const auto flag = switch_of(node)) return EditValue{*flag};
      return EditValue{node.text};
    case Node::Kind::nothing:
      add_fault(cursor, "expected a value, found nothing", {}, faults);
      return {};
    case Node::Kind::refused:
      return {};
  }
  return {};
}

/// Faults of the edits at the keys that they are written under.
void add_edit_faults(const Cursor& set, const Diagnostics& found, Faults& faults) {
  for (const Diagnostic& fault : found) {
    const auto& entries = set.node().entries;
    const auto entry = std::ranges::find(entries, fault.path, &Entry::key);
    const Mark mark = entry == entries.end() ? set.mark() : entry->mark;
    faults.add(mark, set.pointer_to(fault.path), fault.message, fault.hint);
  }
}

NamedEdits read_case(const Cursor& cursor, const Site& site, Faults& faults) {
  ObjectReader reader(cursor, item_label("case", cursor), faults);
  NamedEdits made;
  made.name = reader.name("name");
  if (const auto set = reader.need("set");
      set && expect(*set, Node::Kind::mapping, "a map of edits", faults)) {
    report_repeats(*set, "edit", faults);
    for (const Entry& entry : set->node().entries) {
      if (auto value = read_value(Cursor::at_key(*set, entry.key, entry.value), faults))
        made.edits.push_back({entry.key, std::move(*value)});
    }
    if (reader.sound()) {
      const auto edited = edited_site(site, made.edits);
      if (!edited) add_edit_faults(*set, edited.error(), faults);
    }
  }
  reader.finish();
  return made;
}

}  // namespace
}  // namespace yaml

Result<std::vector<NamedEdits>> parse_cases(std::string_view text, const std::string& file_name,
                                            const Site& site) {
  yaml::Faults faults(file_name);
  const auto root = yaml::parse_document(text, faults);
  if (!root) return std::move(faults).sorted();
  const yaml::Cursor top(*root);
  yaml::ObjectReader reader(top, "", faults);
  (void)reader.find("site");
  std::vector<NamedEdits> cases;
  if (const auto list = reader.need("cases")) {
    yaml::for_each_item(*list, kCases, faults, [&](const yaml::Cursor& item) {
      cases.push_back(yaml::read_case(item, site, faults));
    });
  }
  reader.finish();
  if (faults.empty()) return cases;
  return std::move(faults).sorted();
}

}  // namespace linkmargin
