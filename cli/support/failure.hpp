#pragma once

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

namespace linkmargin::cli {

enum ExitStatus {
  kDone = 0,
  kNoAccess = 1,       ///< something could not be read or written
  kBadInput = 2,       ///< the command line or a file is wrong
  kWeak = 3,           ///< asked for by --fail-if-weak
  kDefect = 4,         ///< a fault of the program
  kInterrupted = 130,  ///< ended by Ctrl-C with what there was: as a shell has it for that signal
};

/// Ends a command: what to say on the error stream, a line each, and how to exit.
struct Failure {
  ExitStatus status;
  std::vector<std::string> lines;
  std::size_t faults = 1;  ///< of a file that a person wrote: over kMostFaults where not all are listed

  Failure(ExitStatus how, std::string line) : status(how), lines{"linkmargin: " + std::move(line)} {}
  Failure(ExitStatus how, std::vector<std::string> all) : status(how), lines(std::move(all)) {}
  Failure(ExitStatus how, std::vector<std::string> all, std::size_t count)
      : status(how), lines(std::move(all)), faults(count) {}
};

}  // namespace linkmargin::cli
