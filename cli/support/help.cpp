#include "support/help.hpp"

#include "linkmargin/report/words/cautions.hpp"
#include "linkmargin/text/display_text.hpp"
#include "linkmargin/yaml/site/language_yaml.hpp"

#include <algorithm>

namespace linkmargin::cli {
namespace {

constexpr int kWidth = 100;
constexpr int kIndent = 2;

struct Entry {
  std::string left;
  std::string right;
};

std::string paragraph(const std::string& text) {
  std::string lines;
  for (const std::string& line : wrapped(text, kWidth)) lines += line + "\n";
  return lines;
}

std::string two_columns(const std::vector<Entry>& entries) {
  int left = 0;
  for (const Entry& entry : entries) left = std::max(left, display_width(entry.left));
  const std::string indent(kIndent, ' ');
  std::string text;
  for (const Entry& entry : entries) {
    std::string lead = indent + padded(entry.left, left) + "  ";
    for (const std::string& line : wrapped(entry.right, kWidth - kIndent - left - 2)) {
      text += lead + line + "\n";
      lead = std::string(static_cast<std::size_t>(kIndent + left + 2), ' ');
    }
  }
  return text;
}

std::string exit_statuses(bool may_be_weak) {
  std::vector<Entry> entries{{"0", "done"},
                             {"1", "a file could not be read or written, or there is not enough memory"},
                             {"2", "the command line or a file is wrong; every fault of a file is listed"}};
  if (may_be_weak) entries.push_back({"3", "--fail-if-weak was given, and a device or an area is weak"});
  entries.push_back({"4", "a defect of the program"});
  return "\nEXIT STATUS\n" + two_columns(entries);
}

/// What holds for every answer, in English as all of the help is.
std::string closing_text() {
  const Wording wording(built_in_language("en"));
  std::string text = "\nCAUTIONS\n";
  for (const Block& line :
       closing_cautions(wording, {StandingCaution::reading_decides, StandingCaution::detectors_stay}))
    text += two_columns({{"-", std::get<Paragraph>(line).text}});
  return text + two_columns({{"-", "'linkmargin cautions' lists all of them."}});
}

}  // namespace

std::string program_help() {
  std::string text = paragraph(
      "linkmargin predicts the radio links of wireless alarm devices in a building: what each wall, door and "
      "floor costs, the signal level and the reading at the hub, the chance that it is enough, and which "
      "devices are weak and why.");
  text += "\nUSAGE\n  linkmargin COMMAND ...\n  linkmargin COMMAND --help\n  linkmargin --help | --version\n";
  text += "\nCOMMANDS\n";
  std::vector<Entry> entries;
  for (const Command* command : all_commands()) entries.push_back({command->name, command->summary});
  text += two_columns(entries) + exit_statuses(false);
  text += "\nEXAMPLES\n" +
          two_columns({{"linkmargin starter --output site.yaml", "a small site file to start from"},
                       {"linkmargin draw site.yaml --output site.svg", "look at the plan"},
                       {"linkmargin check site.yaml", "which devices are weak"},
                       {"linkmargin explain site.yaml 'hall motion'", "why"}});
  return text + closing_text();
}

std::string command_help(const Command& command) {
  std::string text =
      "USAGE\n  linkmargin " + command.usage + "\n\n" + paragraph(command.details) + "\nOPTIONS\n";
  std::vector<Entry> entries;
  for (const Option& option : command.options) {
    const std::string dashed = (option.letter.empty() ? "--" : "-" + option.letter + ", --") + option.name;
    entries.push_back({option.value.empty() ? dashed : dashed + " " + option.value, option.help});
  }
  const bool may_be_weak = std::ranges::any_of(
      command.options, [](const Option& option) { return option.name == "fail-if-weak"; });
  text += two_columns(entries) + exit_statuses(may_be_weak) + "\nEXAMPLES\n";
  entries.clear();
  for (std::size_t i = 0; i + 1 < command.examples.size(); i += 2) {
    entries.push_back({command.examples[i], command.examples[i + 1]});
  }
  return text + two_columns(entries) + closing_text();
}

}  // namespace linkmargin::cli
