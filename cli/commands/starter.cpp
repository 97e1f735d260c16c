#include "linkmargin/yaml/site/tables.hpp"
#include "linkmargin/yaml/writer/first_site.hpp"

#include "output/output.hpp"
#include "output/schema_line.hpp"
#include "support/command.hpp"
#include "support/input.hpp"
#include "support/language.hpp"
#include "support/questions.hpp"

namespace linkmargin::cli {
namespace {

ExitStatus run_starter(const Arguments& arguments) {
  const auto rooms = arguments.value("rooms");
  if (arguments.has("ask")) {
    if (rooms) throw Failure(kBadInput, "--ask asks for the rooms: leave --rooms out");
    write_answer(arguments, with_schema_line(asked_site(language_of(arguments), embedded_tables())));
    return kDone;
  }
  if (!rooms) {
    write_answer(arguments, with_schema_line(std::string(starter_text())));
    return kDone;
  }
  const auto text = first_site(*rooms, embedded_tables());
  if (!text) refuse(text.error(), "--rooms");
  write_answer(arguments, with_schema_line(*text));
  return kDone;
}

}  // namespace

const Command& starter_command() {
  static const Command command{
      .name = "starter",
      .summary = "prints a small site file with comments, to start from",
      .usage = "starter [--rooms LINE | --ask] [--output FILE]",
      .details =
          "Prints a small site file with a comment on every line that needs one. It is valid as it stands: "
          "check it, draw it, then replace its rooms, hubs and devices with your own. With --rooms the file "
          "has the rooms of one line: each a name, width x depth in metres (6'6\"x16' in feet) and, but for "
          "the first, its "
          "neighbour (left of, right of, above, below). With --ask it asks for them, and for the hub, doors "
          "and "
          "devices; an empty line takes what stands in brackets.",
      .options = {with_detail({"rooms", "LINE", "rooms to begin with, parted by commas"},
                              "Each is a name, width x depth in metres (6'6\"x16', in feet, is taken too) "
                              "and, but for the first, left of, right of, above or below another."),
                  with_detail({"ask", "", "asks ten questions and writes the file by the answers"},
                              "It needs a terminal, and does not go with --rooms."),
                  kOutput, kLanguage, kHelp},
      .examples = {"linkmargin starter --output site.yaml", "a file to edit",
                   "linkmargin starter --rooms 'hall 2x5, shop 6x5 left of hall' -o site.yaml",
                   "the same with rooms of your own", "linkmargin starter --ask --output site.yaml",
                   "the same, asked for one by one"},
      .run = run_starter};
  return command;
}

}  // namespace linkmargin::cli
