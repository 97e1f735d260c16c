#pragma once

#include "support/command.hpp"

#include <string>

namespace linkmargin::cli {

/// The page of one command, linkmargin-check(1), in the man macros: what its --help says, and what holds for
/// all of them.
std::string manual_page(const Command& command);

/// linkmargin(1), which names the others.
std::string program_manual_page();

}  // namespace linkmargin::cli
