#include "linkmargin/text/display_text.hpp"

#include "manual/suggestions.hpp"
#include "output/output.hpp"
#include "support/command.hpp"

namespace linkmargin::cli {
namespace {

ExitStatus run_suggest(const Arguments& arguments) {
  const Suggestions found = suggestions(arguments.names);
  std::string text = found.files ? "files\n" : "words\n";
  for (const HelpEntry& word : found.words)
    text += printable(word.left) + "\t" + printable(word.right) + "\n";
  write_answer({}, text);
  return kDone;
}

}  // namespace

const Command& suggest_command() {
  static const Command command{
      .name = "suggest",
      .summary = "prints what may come next on a command line, for shells",
      .usage = "suggest -- WORD...",
      .details =
          "Prints what may complete the last word, which may be empty, of a command line: 'files' or "
          "'words', "
          "by whether names of files may stand there, then a word on each line and after a tab what it is. "
          "The completion of bash, zsh and fish asks this.",
      .options = {kHelp},
      .examples = {"linkmargin suggest -- check site.yaml --doors ''", "the values of --doors",
                   "linkmargin suggest -- explain site.yaml ''", "the devices of a site"},
      .least_names = 1,
      .most_names = kAnyCount,
      .run = run_suggest};
  return command;
}

}  // namespace linkmargin::cli
