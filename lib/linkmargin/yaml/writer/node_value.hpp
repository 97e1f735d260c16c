#pragma once

#include "linkmargin/yaml/tree/node.hpp"
#include "linkmargin/yaml/writer/new_entry.hpp"

/// Not installed.
namespace linkmargin::yaml {

/// What stands in a file, to be written once more: the same value, on one line.
NewValue value_of(const Node& node);

}  // namespace linkmargin::yaml
