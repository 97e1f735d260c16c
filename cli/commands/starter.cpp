#include "linkmargin/yaml/site/site_yaml.hpp"

#include "output/output.hpp"
#include "support/command.hpp"

namespace linkmargin::cli {
namespace {

ExitStatus run(const Arguments& arguments) {
  write_answer(arguments, starter_text());
  return kDone;
}

}  // namespace

const Command& starter_command() {
  static const Command command{
      .name = "starter",
      .summary = "prints a small site file with comments, to start from",
      .usage = "starter [--output FILE]",
      .details =
          "Prints a small site file with a comment on every line that needs one. It is valid as it stands: "
          "check it, draw it, then replace its rooms, hubs and devices with your own.",
      .options = {kOutput, kHelp},
      .examples = {"linkmargin starter --output site.yaml", "a file to edit"},
      .run = run};
  return command;
}

}  // namespace linkmargin::cli
