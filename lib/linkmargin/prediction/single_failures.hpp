#pragma once

#include "linkmargin/prediction/link_table_result.hpp"

#include <string>
#include <vector>

namespace linkmargin {

/// Every hub and repeater out, one at a time. What is enrolled at it by name is lost; all else goes by its
/// best remaining way.
/// @param options  readings are not counted: nobody read the site in that state
/// @param as_it_is  the table of the site by the same options
std::vector<SingleFailure> single_failures(const Site& site, const LinkTableOptions& options,
                                           const LinkTable& as_it_is);

}  // namespace linkmargin
