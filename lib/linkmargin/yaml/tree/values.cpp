#include "linkmargin/yaml/tree/values.hpp"

#include "linkmargin/base/letter_case.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/text/name_flaw.hpp"
#include "linkmargin/yaml/tree/unit_hint.hpp"

#include <algorithm>
#include <cmath>
#include <unordered_map>
#include <utility>
#include <vector>

namespace linkmargin::yaml {
namespace {

std::string found_text(const Node& node) {
  if (node.kind == Node::Kind::sequence) return "a list";
  if (node.kind == Node::Kind::mapping) return "a map";
  if (node.kind == Node::Kind::nothing) return "nothing";
  return quoted(node.text, '"') + (node.quoted ? " in quotation marks" : "");
}

/// "nan", ".inf", "-Infinity" and the like.
bool is_not_finite(std::string_view text) {
  std::string word = lower_case(text);
  word.erase(0, std::min(word.find_first_not_of("+-."), word.size()));
  return word == "nan" || word == "inf" || word == "infinity";
}

std::string in_words(const Range& range) {
  return shortest_text(range.min) + ".." + shortest_text(range.max);
}

/// "1'..98' 5\"", its ends such that what is shown is inside.
std::string in_feet_and_inches(const Range& range) {
  return length_text(range.min, LengthUnit::foot) + ".." + length_text(range.max, LengthUnit::foot);
}

std::optional<double> plain_number(const Cursor& cursor, std::string_view what, Faults& faults) {
  const Node& node = cursor.node();
  if (!expect(cursor, Node::Kind::scalar, what, faults)) return {};
  const auto value = parse_number(node.text);
  if (value && !node.quoted) return value;
  std::string hint;
  if (value) {
    hint = "remove the quotation marks";
  } else if (is_not_finite(node.text)) {
    what = "a finite number";
  } else {
    hint = number_slip_hint(cursor.key(), node.text);
  }
  add_fault(cursor, DiagnosticCode::wrong_type,
            "expected " + std::string(what) + ", found " + found_text(node), hint, faults);
  return {};
}

}  // namespace

double placeholder(const Range& range) {
  return std::clamp(1.0, range.min, range.max);
}

void add_fault(const Cursor& cursor, DiagnosticCode code, const std::string& message, std::string hint,
               Faults& faults) {
  const std::string key = cursor.key().empty() ? std::string() : shown(cursor.key()) + ": ";
  faults.add(cursor.mark(), code, cursor.pointer(), key + message, std::move(hint));
}

bool expect(const Cursor& cursor, Node::Kind kind, std::string_view what, Faults& faults) {
  const Node& node = cursor.node();
  if (node.kind == kind) return true;
  if (node.kind != Node::Kind::refused) {
    add_fault(cursor, DiagnosticCode::wrong_type,
              "expected " + std::string(what) + ", found " + found_text(node), "", faults);
  }
  return false;
}

bool expect_count(const Cursor& cursor, std::size_t count, const Range& range, Faults& faults) {
  if (range.contains(static_cast<double>(count))) return true;
  add_fault(cursor, DiagnosticCode::wrong_count,
            "expected " + in_words(range) + " items, found " + std::to_string(count), "", faults);
  return false;
}

std::optional<double> length_in(const Node& node) {
  if (const auto with_unit = parse_length_m(node.text)) return with_unit;
  const auto figure = node.quoted ? std::nullopt : parse_number(node.text);
  return figure ? std::optional(*figure * metres_in(node.length_unit)) : std::nullopt;
}

std::optional<double> read_length(const Cursor& cursor, const Range& range, Faults& faults) {
  const Node& node = cursor.node();
  const auto length_m = node.kind == Node::Kind::scalar ? length_in(node) : std::nullopt;
  if (!length_m) return plain_number(cursor, "a number", faults);
  if (range.contains(*length_m)) return length_m;
  const bool in_feet = node.length_unit == LengthUnit::foot;
  add_fault(cursor, DiagnosticCode::outside_range,
            shown(node.text) + " is outside " + (in_feet ? in_feet_and_inches(range) : in_words(range)),
            parse_length_m(node.text) ? ""
            : in_feet                 ? foot_slip_hint(*length_m, range)
                                      : unit_slip_hint(cursor.key(), *length_m, range),
            faults);
  return {};
}

std::optional<double> read_number(const Cursor& cursor, const Range& range, Faults& faults) {
  if (cursor.key().ends_with("_m")) return read_length(cursor, range, faults);
  const auto value = plain_number(cursor, "a number", faults);
  if (!value || range.contains(*value)) return value;
  add_fault(cursor, DiagnosticCode::outside_range,
            shown(cursor.node().text) + " is outside " + in_words(range),
            unit_slip_hint(cursor.key(), *value, range), faults);
  return {};
}

std::optional<int> read_whole(const Cursor& cursor, const Range& range, Faults& faults) {
  const auto value = plain_number(cursor, "a whole number", faults);
  if (!value) return {};
  if (!range.contains(*value)) {
    add_fault(cursor, DiagnosticCode::outside_range,
              shown(cursor.node().text) + " is outside " + in_words(range), "", faults);
    return {};
  }
  if (std::trunc(*value) != *value) {
    add_fault(cursor, DiagnosticCode::wrong_type,
              "expected a whole number, found " + found_text(cursor.node()), "", faults);
    return {};
  }
  return static_cast<int>(*value);
}

std::optional<bool> read_flag(const Cursor& cursor, Faults& faults) {
  const Node& node = cursor.node();
  if (node.kind == Node::Kind::scalar && !node.quoted) {
    const std::string word = lower_case(node.text);
    if (word == "true" || word == "yes" || word == "on") return true;
    if (word == "false" || word == "no" || word == "off") return false;
  }
  if (node.kind != Node::Kind::refused) {
    add_fault(cursor, DiagnosticCode::wrong_type, "expected on or off, found " + found_text(node), "",
              faults);
  }
  return {};
}

std::optional<std::string> read_name(const Cursor& cursor, Faults& faults) {
  if (!expect(cursor, Node::Kind::scalar, "a name", faults)) return {};
  const std::string flaw = name_flaw(cursor.node().text, quoted(cursor.node().text, '"'));
  if (flaw.empty()) return cursor.node().text;
  add_fault(cursor, DiagnosticCode::bad_name, flaw, "", faults);
  return {};
}

std::optional<std::string> read_text(const Cursor& cursor, Faults& faults) {
  if (!expect(cursor, Node::Kind::scalar, "text", faults)) return {};
  const std::string& text = cursor.node().text;
  if (text.size() > limits::kMaxTextBytes) {
    add_fault(cursor, DiagnosticCode::too_large,
              "text takes at most " + std::to_string(limits::kMaxTextBytes) + " bytes, this has " +
                  std::to_string(text.size()),
              "", faults);
    return {};
  }
  if (!has_control(text, "\n\t")) return text;
  add_fault(cursor, DiagnosticCode::syntax, "text takes no control characters: " + quoted(text, '"'), "",
            faults);
  return {};
}

void report_repeats(const Cursor& map, std::string_view what, Faults& faults) {
  const std::vector<Entry>& entries = map.node().entries;
  const auto report = [&](const Entry& entry, const Mark& first) {
    const std::string message = "duplicate " + std::string(what) + " " + quoted(entry.key);
    std::string hint = "it stands on line " + std::to_string(first.line) + " already";
    faults.add_stray(entry.mark, DiagnosticCode::given_twice, map.pointer_to(entry.key), message,
                     std::move(hint));
  };
  constexpr std::size_t few = 16;
  if (entries.size() <= few) {  // the usual map: no table needed
    for (auto entry = entries.begin(); entry != entries.end(); ++entry) {
      const auto first =
          std::find_if(entries.begin(), entry, [&](const Entry& e) { return e.key == entry->key; });
      if (first != entry) report(*entry, first->mark);
    }
    return;
  }
  std::unordered_map<std::string_view, Mark> firsts;
  for (const Entry& entry : entries) {
    const auto [first, fresh] = firsts.emplace(entry.key, entry.mark);
    if (!fresh) report(entry, first->second);
  }
}

bool check_entry_name(const Cursor& map, const Entry& entry, Faults& faults) {
  const std::string flaw = name_flaw(entry.key, quoted(entry.key, '"'));
  if (!flaw.empty()) faults.add(entry.mark, DiagnosticCode::bad_name, map.pointer_to(entry.key), flaw);
  return flaw.empty();
}

}  // namespace linkmargin::yaml
