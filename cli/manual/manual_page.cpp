#include "manual/manual_page.hpp"

#include "linkmargin/text/display_text.hpp"

#include "support/help.hpp"

#include <sstream>

namespace linkmargin::cli {
namespace {

constexpr int kLineWidth = 78;

/// Text of a line as it is to appear: nothing in it is a macro, and what is copied from it can be typed.
std::string escaped(const std::string& text) {
  std::string line;
  for (const char letter : text) {
    switch (letter) {
      case '\\':
        line += "\\e";
        break;
      case '-':
        line += "\\-";
        break;
      case '\'':
        line += "\\(aq";
        break;
      case '^':
        line += "\\(ha";
        break;
      case '`':
        line += "\\(ga";
        break;
      case '~':
        line += "\\(ti";
        break;
      default:
        line += letter;
    }
  }
  return line.starts_with(".") ? "\\&" + line : line;
}

std::string bold(const std::string& text) {
  return "\\fB" + escaped(text) + "\\fR";
}

/// Words in capitals stand for what a person puts there.
std::string typed_line(const std::string& text) {
  std::string line;
  std::istringstream words(text);
  for (std::string word; words >> word;) {
    const bool placeholder =
        word == "[options]" || (word.find_first_of("abcdefghijklmnopqrstuvwxyz") == std::string::npos &&
                                word.find_first_of("ABCDEFGHIJKLMNOPQRSTUVWXYZ") != std::string::npos);
    line += (line.empty() ? "" : " ") + (placeholder ? "\\fI" + escaped(word) + "\\fR" : bold(word));
  }
  return line;
}

std::string paragraph_lines(const std::string& text) {
  std::string lines;
  for (const std::string& line : wrapped(text, kLineWidth)) lines += escaped(line) + "\n";
  return lines;
}

std::string heading(const std::string& title) {
  return ".SH " + title + "\n";
}

std::string tagged(const std::string& tag, const std::string& text) {
  return ".TP\n" + tag + "\n" + paragraph_lines(text);
}

/// "linkmargin-check" for check, "linkmargin" for nothing.
std::string page_name(const std::string& command) {
  return command.empty() ? "linkmargin" : "linkmargin-" + command;
}

std::string reference(const std::string& command) {
  return bold(page_name(command)) + "(1)";
}

std::string beginning(const std::string& command, const std::string& summary) {
  std::string title = page_name(command);
  for (char& letter : title) {
    if (letter >= 'a' && letter <= 'z') letter = static_cast<char>(letter - 'a' + 'A');
  }
  return ".TH " + escaped(title) +
         " 1 " LINKMARGIN_DATE " \"linkmargin " LINKMARGIN_VERSION "\" \"User commands\"\n" +
         heading("NAME") + escaped(page_name(command)) + " \\- " + escaped(summary) + "\n" +
         heading("SYNOPSIS");
}

/// What an example is for, as it stands before it.
std::string sentence(std::string meaning) {
  if (meaning.front() >= 'a' && meaning.front() <= 'z')
    meaning.front() = static_cast<char>(meaning.front() - 'a' + 'A');
  return meaning.ends_with("?") ? meaning : meaning + ":";
}

/// What follows the options of a page. @param command  null: of the program
std::string ending(const Command* command) {
  std::string text = heading("EXIT STATUS");
  for (const HelpEntry& status : exit_statuses(command)) text += tagged(bold(status.left), status.right);
  text +=
      heading("ERRORS") +
      paragraph_lines(
          "Every fault of a file is listed on the error stream, one a line with file, line and column, and "
          "with the nearest word where one was mistyped. Nothing is then calculated from that file, and no "
          "file is written or changed by half. Another run after correcting the faults gives the answer.");
  text +=
      heading("ACCURACY") +
      paragraph_lines(
          "Every answer is an estimate that the reading on site overrules; docs/validation.md of the project "
          "compares the predictions with published measurements and other calculations.");
  text += heading("EXAMPLES");
  bool first = true;
  for (const HelpEntry& example : examples(command)) {
    text += (first ? "" : ".PP\n") + paragraph_lines(sentence(example.right)) + ".PP\n.EX\n" +
            escaped(example.left) + "\n.EE\n";
    first = false;
  }
  text += heading("CAUTIONS");
  first = true;
  for (const std::string& caution : help_cautions()) {
    text += (first ? "" : ".PP\n") + paragraph_lines(caution);
    first = false;
  }
  return text;
}

}  // namespace

std::string manual_page(const Command& command) {
  std::string text = beginning(command.name, command.summary) + bold("linkmargin") + " " +
                     typed_line(command.usage) + "\n" + heading("DESCRIPTION") +
                     paragraph_lines(command.details) + heading("OPTIONS");
  for (const HelpEntry& option : option_entries(command)) {
    text +=
        tagged(typed_line(option.left), option.right + (option.detail.empty() ? "" : ". " + option.detail));
  }
  return text + ending(&command) + heading("SEE ALSO") + reference("") + "\n";
}

std::string program_manual_page() {
  std::string text = beginning("", "predicts the radio links of wireless alarm devices in a building") +
                     bold("linkmargin") + " \\fICOMMAND\\fR ...\n.br\n" + bold("linkmargin --help") + " | " +
                     bold("--version") + "\n" + heading("DESCRIPTION") + paragraph_lines(kProgramDetails) +
                     ".PP\n" +
                     paragraph_lines(
                         "The walls, openings, hubs and devices stand in a site file, a text that "
                         "'linkmargin starter' gives an example of. The commands are:");
  for (const HelpEntry& command : command_entries()) text += tagged(reference(command.left), command.right);
  text += heading("OPTIONS") + tagged(bold("--help"), "lists the commands; after a command its options") +
          tagged(bold("--version"), "the version of the program") + ending(nullptr) + heading("SEE ALSO");
  const std::vector<const Command*> commands = all_commands();
  for (const Command* command : commands)
    text += reference(command->name) + (command == commands.back() ? "\n" : ",\n");
  return text;
}

}  // namespace linkmargin::cli
