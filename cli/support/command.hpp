#pragma once

#include "support/arguments.hpp"
#include "support/failure.hpp"

#include <string>
#include <vector>

namespace linkmargin::cli {

/// One command: what its help says and what it does.
struct Command {
  std::string name;
  std::string summary;  ///< one line for the list of commands
  std::string usage;    ///< what follows the program's name
  std::string details;  ///< paragraphs
  std::vector<Option> options;
  std::vector<std::string> examples;  ///< a command line, then what it is for, in turn
  std::size_t least_names = 0;
  std::size_t most_names = 0;  ///< of SITE, DEVICE and the like
  bool names_are_files = false;
  ExitStatus (*run)(const Arguments&) = nullptr;
};

inline constexpr std::size_t kAnyCount = 1000;

const Command& starter_command();
const Command& sketch_command();
const Command& trace_command();
const Command& check_command();
const Command& explain_command();
const Command& materials_command();
const Command& draw_command();
const Command& coverage_command();
const Command& relocate_command();
const Command& visit_command();
const Command& place_command();
const Command& readings_command();
const Command& calibrate_command();
const Command& whatif_command();
const Command& report_command();
const Command& cautions_command();
const Command& manual_command();
const Command& suggest_command();

/// In the order in which a site comes to be.
std::vector<const Command*> all_commands();

/// What its usage line asks for beside options, in turn: SITE and DEVICE; the last of several again and
/// again.
std::vector<std::string> usage_names(const Command& command);

/// Those of them without which the command does not run.
std::vector<std::string> needed_names(const Command& command);

}  // namespace linkmargin::cli
