#pragma once

#include "support/help.hpp"

#include <string>
#include <vector>

namespace linkmargin::cli {

/// What may stand where a command line ends.
struct Suggestions {
  bool files = false;            ///< names of files too
  std::vector<HelpEntry> words;  ///< each with what it is
};

/// @param typed  the words after the program's name; of the last only the beginning. A site file among them
/// is read
///               for its names; one with faults has none.
Suggestions suggestions(std::vector<std::string> typed);

}  // namespace linkmargin::cli
