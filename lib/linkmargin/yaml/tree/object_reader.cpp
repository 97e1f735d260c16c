#include "linkmargin/yaml/tree/object_reader.hpp"

#include "linkmargin/base/joined.hpp"
#include "linkmargin/base/nearest_name.hpp"
#include "linkmargin/site/schema/renamed_keys.hpp"
#include "linkmargin/yaml/tree/unit_hint.hpp"

#include <algorithm>

namespace linkmargin::yaml {

std::string label(std::string_view kind, std::string_view name) {
  return std::string(kind) + " " + quoted(name);
}

std::string item_label(std::string_view kind, const Cursor& item) {
  const std::string_view name = item_name(item.node());
  return name.empty() ? "this " + std::string(kind) : label(kind, name);
}

ObjectReader::ObjectReader(const Cursor& self, std::string what, Faults& faults)
    : self_(self), what_(std::move(what)), faults_(faults), faults_before_(faults.count()), is_map_(false) {
  known_.reserve(16);
  is_map_ = expect(self, Node::Kind::mapping, "a map", faults);
  if (is_map_) report_repeats(self, "key", faults);
}

std::optional<Cursor> ObjectReader::find(std::string_view key) {
  known_.push_back(key);
  const Node* value = yaml::find(self_.node(), key);
  return value == nullptr ? std::optional<Cursor>() : Cursor::at_key(self_, key, *value);
}

std::optional<Cursor> ObjectReader::need(std::string_view key) {
  auto value = find(key);
  if (!value) missing({key});
  return value;
}

double ObjectReader::number(std::string_view key, const Range& range) {
  const auto value = need(key);
  return value ? read_number(*value, range, faults_).value_or(placeholder(range)) : placeholder(range);
}

double ObjectReader::number_or(std::string_view key, const Range& range, double absent) {
  return number_if(key, range).value_or(absent);
}

std::optional<double> ObjectReader::number_if(std::string_view key, const Range& range) {
  const auto value = find(key);
  if (!value) return {};
  return read_number(*value, range, faults_).value_or(placeholder(range));
}

int ObjectReader::whole_or(std::string_view key, const Range& range, int absent) {
  const auto value = find(key);
  return value ? read_whole(*value, range, faults_).value_or(absent) : absent;
}

bool ObjectReader::flag_or(std::string_view key, bool absent) {
  const auto value = find(key);
  return value ? read_flag(*value, faults_).value_or(absent) : absent;
}

std::string ObjectReader::name(std::string_view key) {
  const auto value = need(key);
  return value ? read_name(*value, faults_).value_or("") : std::string();
}

std::optional<std::string> ObjectReader::name_if(std::string_view key) {
  const auto value = find(key);
  return value ? read_name(*value, faults_) : std::optional<std::string>();
}

std::string ObjectReader::text_or_empty(std::string_view key) {
  const auto value = find(key);
  return value ? read_text(*value, faults_).value_or("") : std::string();
}

std::optional<std::size_t> ObjectReader::word_position(std::string_view key,
                                                       const std::vector<std::string>& known) {
  const auto value = find(key);
  const auto word = value ? read_name(*value, faults_) : std::optional<std::string>();
  if (!word) return {};
  const auto found = std::find(known.begin(), known.end(), *word);
  if (found != known.end()) return static_cast<std::size_t>(found - known.begin());
  add_fault(*value, DiagnosticCode::unknown_word,
            "expected one of " + joined(known) + ", found " + quoted(*word, '"'), nearest_hint(*word, known),
            faults_);
  return {};
}

void ObjectReader::at_most_one_of(const std::vector<std::string_view>& keys) {
  std::string_view first;
  for (const std::string_view key : keys) {
    if (yaml::find(self_.node(), key) == nullptr) continue;
    if (first.empty()) {
      first = key;
    } else {
      fault(DiagnosticCode::conflicting_keys, key, "stands beside " + std::string(first),
            "give only one of " + joined(keys));
    }
  }
}

void ObjectReader::exactly_one_of(const std::vector<std::string_view>& keys) {
  at_most_one_of(keys);
  const bool none = std::all_of(keys.begin(), keys.end(), [&](std::string_view key) {
    return yaml::find(self_.node(), key) == nullptr;
  });
  if (none) missing(keys);
}

void ObjectReader::fault(DiagnosticCode code, std::string_view key, const std::string& message,
                         std::string hint) {
  const Node* value = yaml::find(self_.node(), key);
  const Mark mark = value == nullptr ? self_.mark() : value->mark;
  faults_.add(mark, code, self_.pointer_to(key), std::string(key) + ": " + message, std::move(hint));
}

void ObjectReader::known_elsewhere(std::vector<std::string_view> keys, std::string hint) {
  elsewhere_ = std::move(keys);
  elsewhere_hint_ = std::move(hint);
}

void ObjectReader::missing(std::vector<std::string_view> keys, std::string hint) {
  missing_.push_back({std::move(keys), std::move(hint)});
}

void ObjectReader::report_unknown(const Entry& entry, const std::vector<std::string>& known) {
  if (std::string hint = split_decimals_hint(self_.node(), entry); !hint.empty()) {
    faults_.add_stray(entry.mark, DiagnosticCode::unknown_key, self_.pointer_to(entry.key),
                      "unknown key " + quoted(entry.key), std::move(hint));
    return;
  }
  if (std::ranges::find(elsewhere_, entry.key) != elsewhere_.end()) {
    faults_.add_stray(entry.mark, DiagnosticCode::unknown_key, self_.pointer_to(entry.key),
                      "unknown key " + quoted(entry.key) + " at this place", elsewhere_hint_);
    return;
  }
  const std::string_view renamed = renamed_key(entry.key);
  const bool is_renamed = std::ranges::find(known, renamed) != known.end();
  const auto near = is_renamed       ? std::optional<std::string>(renamed)
                    : faults_.full() ? std::nullopt
                                     : nearest_name(entry.key, known);
  if (near) {
    meant_.push_back(*near);
    faults_.doubt(self_.pointer_to(*near));
  }
  faults_.add_stray(entry.mark, DiagnosticCode::unknown_key, self_.pointer_to(entry.key),
                    "unknown key " + quoted(entry.key),
                    is_renamed ? renamed_hint(entry.key)
                    : near     ? "did you mean '" + *near + "'?"
                               : "");
}

void ObjectReader::finish() {
  if (!is_map_) return;
  std::vector<std::string> known;
  for (const Entry& entry : self_.node().entries) {
    if (std::find(known_.begin(), known_.end(), entry.key) != known_.end()) continue;
    if (known.empty()) known.assign(known_.begin(), known_.end());
    report_unknown(entry, known);
  }
  for (const auto& [keys, hint] : missing_) {
    const bool mistyped = std::any_of(keys.begin(), keys.end(), [&](std::string_view key) {
      return std::find(meant_.begin(), meant_.end(), key) != meant_.end();
    });
    if (mistyped) continue;
    const std::string wanted = keys.size() == 1 ? "key " + quoted(keys.front()) : "one of " + joined(keys);
    faults_.add(self_.mark(), DiagnosticCode::missing_key, self_.pointer_to(keys.front()),
                "missing " + wanted + (what_.empty() ? "" : " in " + what_), hint);
  }
}

}  // namespace linkmargin::yaml
