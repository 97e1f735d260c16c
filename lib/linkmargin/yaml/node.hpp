#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace linkmargin::yaml {

/// A place in a file: line and column count from 1, columns in characters (code points), not bytes.
struct Mark {
  int line = 0;
  int column = 0;
  friend bool operator==(const Mark&, const Mark&) = default;
};

struct Entry;

/// What a YAML file holds, free of the parser that read it.
struct Node {
  enum class Kind {
    nothing,  ///< no value written, or null
    scalar,
    sequence,
    mapping,
    refused,  ///< something that this program does not take; a fault tells of it, so readers keep silent
  };

  Kind kind = Kind::nothing;
  Mark mark;                   ///< where to point; for a value in block style under a key, that key
  bool quoted = false;         ///< a scalar in quotation marks
  std::string text;            ///< of a scalar
  std::vector<Node> items;     ///< of a sequence
  std::vector<Entry> entries;  ///< of a mapping, in the order of the file, repeated keys included
};

/// One key of a mapping and its value.
struct Entry {
  std::string key;
  Mark mark;  ///< of the key
  Node value;
};

/// The value of a key in a mapping, the first if it is repeated; nullptr when there is none or no mapping.
const Node* find(const Node& node, std::string_view key);

/// The `name` of an item of a list, or an empty text.
std::string_view item_name(const Node& item);

/// Where the longest existing prefix of a JSON Pointer stands. Items of a list that have a name are found by
/// it, else by position. In a pair of rooms, position 0 is the room when `outside` is written first.
Mark locate(const Node& root, std::string_view pointer);

}  // namespace linkmargin::yaml
