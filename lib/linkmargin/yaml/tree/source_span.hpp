#pragma once

#include "linkmargin/yaml/tree/node.hpp"

#include <cstddef>
#include <optional>
#include <string_view>

/// Where the parts of a parsed text end, of which the parser tells only the beginnings. Positions are bytes
/// of that text; the result is nothing where the text is not written as the tree has it.
namespace linkmargin::yaml {

/// One past the last byte of a key.
std::optional<std::size_t> key_end(std::string_view text, const Entry& entry);

/// One past the last byte of a value; one past the colon where no value is written.
std::optional<std::size_t> value_end(std::string_view text, const Entry& entry);

/// One past the last byte of a value that stands under no key: the root, or an item of a list.
std::optional<std::size_t> item_end(std::string_view text, const Node& node);

/// The first position from one on that holds neither a blank, a line end nor a comment.
std::size_t skip_blank(std::string_view text, std::size_t position);

/// Where the line of a position begins, and its line feed or the end of the text.
std::size_t line_begin(std::string_view text, std::size_t position);
std::size_t line_end(std::string_view text, std::size_t position);

/// How far a position is from the beginning of its line.
std::size_t column_of(std::string_view text, std::size_t position);

}  // namespace linkmargin::yaml
