#include "manual/manual_page.hpp"
#include "output/output.hpp"
#include "support/command.hpp"
#include "support/input.hpp"

namespace linkmargin::cli {
namespace {

ExitStatus run_manual(const Arguments& arguments) {
  if (arguments.names.empty()) {
    write_answer(arguments, program_manual_page());
    return kDone;
  }
  const std::string& name = arguments.names.front();
  std::vector<std::string> known;
  for (const Command* command : all_commands()) {
    known.push_back(command->name);
    if (command->name != name) continue;
    write_answer(arguments, manual_page(*command));
    return kDone;
  }
  unknown_name("command", name, known);
}

}  // namespace

const Command& manual_command() {
  static const Command command{
      .name = "manual",
      .summary = "prints the manual page of a command, for man",
      .usage = "manual [COMMAND] [--output FILE]",
      .details =
          "Prints the manual page of a command, or of the program, as man reads it. An installed program "
          "brings its pages with it: 'man linkmargin-check'.",
      .options = {kOutput, kHelp},
      .examples = {"linkmargin manual check --output linkmargin-check.1", "the page as a file",
                   "linkmargin manual check | man -l -", "read it without installing it"},
      .least_names = 0,
      .most_names = 1,
      .run = run_manual};
  return command;
}

}  // namespace linkmargin::cli
