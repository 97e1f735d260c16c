#pragma once

#include "linkmargin/base/length_unit.hpp"
#include "linkmargin/text/mark.hpp"

#include <cstddef>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

namespace linkmargin::yaml {

/// No position.
inline constexpr std::size_t kNowhere = static_cast<std::size_t>(-1);

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
  Mark mark;  ///< where to point; for a value in block style under a key, that key
  std::size_t begin =
      kNowhere;         ///< first byte in the text that was parsed; kNowhere where no value is written
  bool flow = false;    ///< a list or map in brackets
  bool quoted = false;  ///< a scalar in quotation marks
  LengthUnit length_unit = LengthUnit::metre;  ///< what a bare figure counts where it is a length
  std::string text;                            ///< of a scalar
  std::vector<Node> items;                     ///< of a sequence
  std::vector<Entry> entries;  ///< of a mapping, in the order of the file, repeated keys included
};

/// One key of a mapping and its value.
struct Entry {
  std::string key;
  Mark mark;                     ///< of the key
  std::size_t begin = kNowhere;  ///< of the key, in the text that was parsed
  Node value;
};

/// The value of a key in a mapping, the first if it is repeated; nullptr when there is none or no mapping.
const Node* find(const Node& node, std::string_view key);

/// The `name` of an item of a list, or an empty text.
std::string_view item_name(const Node& item);

/// What a name of a JSON Pointer leads to, or nullptr: the value of a key, or the item of a list that has
/// this name, else that at this position. In a pair of rooms, position 0 is the room when `outside` is
/// written first.
/// @param parent  the name that led to the node
const Node* child(const Node& node, std::string_view name, std::string_view parent);

/// Finds places in one tree, which must outlive it and stay as it is.
class Locator {
 public:
  explicit Locator(const Node& root) : root_(root) {}

  /// Where the longest existing prefix of a JSON Pointer stands; see child().
  Mark locate(std::string_view pointer);

 private:
  using Names = std::unordered_map<std::string_view, const Node*>;

  const Node* step(const Node& node, std::string_view name, std::string_view parent);

  const Node& root_;
  std::unordered_map<const Node*, Names> large_;  // nodes of many keys or items, by their names
};

/// The same for one pointer.
Mark locate(const Node& root, std::string_view pointer);

}  // namespace linkmargin::yaml
