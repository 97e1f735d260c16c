#include "linkmargin/report/words/cautions.hpp"

#include "linkmargin/report/document/write_text.hpp"

#include "output/output.hpp"
#include "output/output_format.hpp"
#include "support/command.hpp"
#include "support/language.hpp"

namespace linkmargin::cli {
namespace {

ExitStatus run_cautions(const Arguments& arguments) {
  const Wording wording(language_of(arguments));
  const Document document{.blocks = {bullet_list(standing_cautions(wording))}};
  write_answer(arguments, write_text(document, text_style(arguments)));
  return kDone;
}

}  // namespace

const Command& cautions_command() {
  static const Command command{
      .name = "cautions",
      .summary = "lists the cautions for every visit: rules, radio law, ladders, drilling",
      .usage = "cautions [options]",
      .details =
          "Lists the cautions that hold for every prediction. Each answer ends with those that matter most "
          "for it.",
      .options = {kOutput, kLanguage, kHelp},
      .examples = {"linkmargin cautions", "read them once before the first visit",
                   "linkmargin cautions --language de", "the same in German"},
      .run = run_cautions};
  return command;
}

}  // namespace linkmargin::cli
