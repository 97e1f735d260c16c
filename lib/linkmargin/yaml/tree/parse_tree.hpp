#pragma once

#include "linkmargin/text/faults.hpp"
#include "linkmargin/yaml/tree/node.hpp"

#include <optional>
#include <string>

namespace linkmargin::yaml {

/// Lists and maps inside each other, and values in one file; a file that a person wrote has far fewer.
inline constexpr std::size_t kMaxDepth = 64;
inline constexpr std::size_t kMaxNodes = 300'000;

/// Anchors, aliases and tags of one file that are told; then reading ends.
inline constexpr std::size_t kMaxRefused = 1000;

/// Reads one YAML document. Anchors, aliases, tags and keys that are no text become faults, and the rest is
/// read on. Nothing, and one fault, where the text is no YAML, nests or holds too much (in
/// all, or in one pair of brackets: kMaxPendingSigns), or has a second document.
/// @param text  from decoded_text()
std::optional<Node> parse_tree(const std::string& text, Faults& faults);

}  // namespace linkmargin::yaml
