#pragma once

#include "linkmargin/text/faults.hpp"
#include "linkmargin/yaml/tree/node.hpp"

#include <optional>
#include <string_view>

namespace linkmargin::yaml {

/// The bytes of a file as a tree: decoded_text(), then parse_tree(), then the check that something stands
/// there.
std::optional<Node> parse_document(std::string_view bytes, Faults& faults);

}  // namespace linkmargin::yaml
