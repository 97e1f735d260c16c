#pragma once

#include "linkmargin/base/range.hpp"
#include "linkmargin/text/faults.hpp"
#include "linkmargin/yaml/tree/cursor.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

/// Each function reads one value, or adds its fault and returns nothing.
namespace linkmargin::yaml {

/// Under a key that ends in `_m` a length: read_length().
std::optional<double> read_number(const Cursor& cursor, const Range& range, Faults& faults);

/// In metres: a figure in the unit of the file, or one with a unit of its own (parse_length_m()).
/// @param range  in metres
std::optional<double> read_length(const Cursor& cursor, const Range& range, Faults& faults);

/// The length that a scalar says, or nothing.
std::optional<double> length_in(const Node& node);

std::optional<int> read_whole(const Cursor& cursor, const Range& range, Faults& faults);

/// true, yes, on, false, no, off; letter case does not count.
std::optional<bool> read_flag(const Cursor& cursor, Faults& faults);

/// Not empty, at most kMaxNameBytes, no control characters nor others that cannot be seen, no blank at its
/// ends.
std::optional<std::string> read_name(const Cursor& cursor, Faults& faults);

/// Free text, at most limits::kMaxTextBytes, no control characters but line feed and tab.
std::optional<std::string> read_text(const Cursor& cursor, Faults& faults);

/// Whether a node is of that kind; if not, a fault "key: expected <what>, found ...".
bool expect(const Cursor& cursor, Node::Kind kind, std::string_view what, Faults& faults);

/// Whether that many items stand here; if not, a fault.
bool expect_count(const Cursor& cursor, std::size_t count, const Range& range, Faults& faults);

/// Tells of every key of a map that stands there before.
void report_repeats(const Cursor& map, std::string_view what, Faults& faults);

/// Whether a key may be a name; if not, a fault at the key.
bool check_entry_name(const Cursor& map, const Entry& entry, Faults& faults);

/// A number inside a range, for one that cannot be read.
double placeholder(const Range& range);

/// "key: message" at the cursor.
void add_fault(const Cursor& cursor, DiagnosticCode code, const std::string& message, std::string hint,
               Faults& faults);

/// Calls read(cursor) for each item of a list.
template <typename Read>
void for_each_item(const Cursor& list, const Range& count, Faults& faults, Read read) {
  if (!expect(list, Node::Kind::sequence, "a list", faults)) return;
  if (!expect_count(list, list.node().items.size(), count, faults)) return;
  for (std::size_t i = 0; i < list.node().items.size(); ++i) {
    read(Cursor::at_item(list, i, list.node().items[i]));
  }
}

/// Calls read(cursor) for a value, or for each item of a list of such values.
template <typename Read>
void for_one_or_each(const Cursor& cursor, const Range& count, Faults& faults, Read read) {
  if (cursor.node().kind == Node::Kind::sequence) {
    for_each_item(cursor, count, faults, read);
  } else {
    read(cursor);
  }
}

/// Calls read(cursor, entry) for each entry of a map from names to values.
template <typename Read>
void for_each_named(const Cursor& map, const Range& count, Faults& faults, Read read) {
  if (!expect(map, Node::Kind::mapping, "a map of names", faults)) return;
  if (!expect_count(map, map.node().entries.size(), count, faults)) return;
  report_repeats(map, "name", faults);
  for (const Entry& entry : map.node().entries) {
    check_entry_name(map, entry, faults);
    read(Cursor::at_key(map, entry.key, entry.value), entry);
  }
}

}  // namespace linkmargin::yaml
