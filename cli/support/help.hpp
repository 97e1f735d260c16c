#pragma once

#include "support/command.hpp"

#include <string>

namespace linkmargin::cli {

std::string program_help();
std::string command_help(const Command& command);

}  // namespace linkmargin::cli
