#pragma once

#include "linkmargin/base/result.hpp"
#include "linkmargin/yaml/site/tables.hpp"

#include <string>
#include <string_view>

namespace linkmargin {

/// The text of a site file with every place as coordinates: rooms, openings and storeys written anew, hubs,
/// repeaters and devices with their storey, `at_m`, `height_m` and profile. All else stays as it was typed;
/// comments within `storeys` and within radios whose place was said in words are lost.
/// @return the new bytes, which read as the same site but for what was said of sizes that were closed; or the
/// faults of the file; or one that says that the file is written in a way that cannot be taken apart
Result<std::string> long_form(std::string_view text, const std::string& file_name, const Tables& tables);

}  // namespace linkmargin
