#pragma once

#include "linkmargin/base/length_unit.hpp"
#include "linkmargin/yaml/tree/scalar_text.hpp"

#include <cstddef>
#include <string>
#include <vector>

/// Keys and values that are to be written into a file.
namespace linkmargin::yaml {

struct NewEntry;

struct NewValue {
  enum class Kind { literal, name, flag, map, list };
  explicit NewValue(Kind kind = Kind::literal, std::string text = {},
                    bool on = false);  // defined where NewEntry is

  Kind kind;
  std::string text;               ///< of a literal or a name
  bool on;                        ///< of a flag
  std::vector<NewEntry> entries;  ///< of a map
  std::vector<NewValue> items;    ///< of a list
  int lines = 0;  ///< levels of a map that are spread over lines at least, in a map that is written so
};

struct NewEntry {
  std::string key;
  NewValue value;
};

NewValue literal_value(std::string text);  ///< written as it stands
NewValue name_value(std::string text);     ///< in quotes where it needs them
NewValue map_value(std::vector<NewEntry> entries);

/// The entry, whose lengths are figures in metres, for a file in that unit: in feet each gets its own,
/// "2.3m".
NewEntry with_length_unit(NewEntry entry, LengthUnit unit);

/// On one line, a map in braces, a list in brackets. Quotes other than as_needed are those of JSON and its
/// like: keys and names stand in them, and switches are true or false.
std::string flow_text(const NewValue& value, Quotes quotes);
std::string flow_text(const NewEntry& entry, Quotes quotes);

/// How far a new entry of a map in lines is spread over lines.
struct LineStyle {
  std::size_t indent = 0;  ///< of its key
  std::size_t step = 2;    ///< by which what it holds is indented further
  int levels = 0;          ///< of maps and lists that are written a part a line; deeper ones in brackets
};

/// Whole lines, each after a line feed: what follows the end of a line.
std::string block_text(const NewEntry& entry, const LineStyle& style, Quotes quotes);

}  // namespace linkmargin::yaml
