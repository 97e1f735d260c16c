#pragma once

#include "linkmargin/site/edit/what_if.hpp"

#include "support/arguments.hpp"

#include <cstdint>
#include <span>
#include <string>

namespace linkmargin::cli {

/// A what-if file with its sites.
struct WhatIfFiles {
  WhatIf what_if;
  std::uint64_t texts = 0;  ///< a hash of all files read for it, tables and names included
};

/// The first name's file, and the site files that it names, from its own folder on: patterns stand for what
/// they match, in the order of names.
/// @throws Failure when a file cannot be read, a pattern matches nothing, or with every fault of the files
WhatIfFiles read_what_if(const Arguments& arguments);

/// A hash of those texts, of the program's version and of the options that rows hang on.
std::uint64_t fingerprint(const WhatIfFiles& files, std::span<const std::string> options);

}  // namespace linkmargin::cli
