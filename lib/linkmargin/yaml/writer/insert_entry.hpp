#pragma once

#include "linkmargin/yaml/tree/node.hpp"
#include "linkmargin/yaml/writer/new_entry.hpp"
#include "linkmargin/yaml/writer/splice.hpp"

#include <optional>
#include <string_view>
#include <vector>

namespace linkmargin::yaml {

/// The splices that put a new entry into a map of a parsed text, in the way that the map is written: in
/// braces on the same line or on a line of its own, or as lines with the indentation of the map's keys.
/// Comments stay where they are.
/// @param after  the key that it is to follow; the last one when the map does not have it
/// @return nothing where the text is not written as the tree has it
std::optional<std::vector<Splice>> insert_entry(std::string_view text, const Node& map,
                                                std::string_view after, const NewEntry& entry);

/// The same for a key of a map that stands there without a value or with null: the entry becomes its first.
/// @param map  that the section stands in
std::optional<std::vector<Splice>> fill_section(std::string_view text, const Node& map, const Entry& section,
                                                const NewEntry& entry);

/// The splices that put a new map in the place of one that stands there, all of it, with the comments between
/// its keys; one behind the key of a map in lines stays.
/// @param map   that the old entry stands in
/// @param entry a map; its key is not written
std::optional<std::vector<Splice>> replace_entry(std::string_view text, const Node& map, const Entry& old,
                                                 const NewEntry& entry);

/// The splices that take an entry out of a map, of which another stays: its lines with a comment behind them,
/// or in braces with one comma. Other comments stay.
/// @return nothing where it is the only entry, or where the text is not written as the tree has it
std::optional<std::vector<Splice>> remove_entry(std::string_view text, const Node& map, const Entry& old);

}  // namespace linkmargin::yaml
