#pragma once

#include "support/command.hpp"

#include <string>
#include <vector>

namespace linkmargin::cli {

std::string program_help();
std::string command_help(const Command& command);

/// A line of two columns: what is typed or returned, and what it means.
struct HelpEntry {
  std::string left;
  std::string right;
  std::string detail{};  ///< of the manual page alone
};

/// What the program is for.
extern const char* const kProgramDetails;

std::vector<HelpEntry> command_entries();
std::vector<HelpEntry> option_entries(const Command& command);
std::vector<HelpEntry> exit_statuses(const Command* command);  ///< null: of the program
std::vector<HelpEntry> examples(const Command* command);       ///< null: of the program

/// What holds for every answer.
std::vector<std::string> help_cautions();

}  // namespace linkmargin::cli
