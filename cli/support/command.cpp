#include "support/command.hpp"

#include <sstream>

namespace linkmargin::cli {
namespace {

/// The words of a usage line, without dots, that stand in capitals; those in brackets too, without them.
std::vector<std::string> capital_words(const Command& command, bool bracketed) {
  std::vector<std::string> names;
  std::istringstream words(command.usage);
  bool option = false;  // what stands before a value in brackets: [--output FILE]
  for (std::string word; words >> word;) {
    if (bracketed && word.starts_with("[") && !word.starts_with("[-")) word.erase(0, 1);
    if (word.ends_with("...")) word.resize(word.size() - 3);
    if (bracketed && word.ends_with("]") && !option) word.pop_back();
    if (word.ends_with("...")) word.resize(word.size() - 3);
    const bool capitals = word.find_first_not_of("ABCDEFGHIJKLMNOPQRSTUVWXYZ") == std::string::npos;
    if (capitals && !option) names.push_back(word);
    option = word.find("--") != std::string::npos && word != "--";
  }
  return names;
}

}  // namespace

std::vector<std::string> usage_names(const Command& command) {
  return capital_words(command, true);
}

std::vector<std::string> needed_names(const Command& command) {
  return capital_words(command, false);
}

}  // namespace linkmargin::cli
