#include "support/help.hpp"

#include "linkmargin/report/words/cautions.hpp"
#include "linkmargin/text/display_text.hpp"
#include "linkmargin/yaml/site/language_yaml.hpp"

#include <algorithm>

namespace linkmargin::cli {
namespace {

constexpr int kWidth = 100;
constexpr int kIndent = 2;

std::string paragraph(const std::string& text) {
  std::string lines;
  for (const std::string& line : wrapped(text, kWidth)) lines += line + "\n";
  return lines;
}

std::string two_columns(const std::vector<HelpEntry>& entries) {
  int left = 0;
  for (const HelpEntry& entry : entries) left = std::max(left, display_width(entry.left));
  const std::string indent(kIndent, ' ');
  std::string text;
  for (const HelpEntry& entry : entries) {
    std::string lead = indent + padded(entry.left, left) + "  ";
    for (const std::string& line : wrapped(entry.right, kWidth - kIndent - left - 2)) {
      text += lead + line + "\n";
      lead = std::string(static_cast<std::size_t>(kIndent + left + 2), ' ');
    }
  }
  return text;
}

std::string section(const std::string& title, const std::vector<HelpEntry>& entries) {
  return "\n" + title + "\n" + two_columns(entries);
}

/// In English as all of the help is.
std::string cautions_section() {
  std::vector<HelpEntry> entries;
  for (const std::string& caution : help_cautions()) entries.push_back({"-", caution});
  return section("CAUTIONS", entries);
}

}  // namespace

const char* const kProgramDetails =
    "linkmargin predicts the radio links of wireless alarm devices in a building: what each wall, door and "
    "floor costs, the signal level and the reading at the hub, the chance that it is enough, and which "
    "devices are weak and why.";

std::vector<HelpEntry> command_entries() {
  std::vector<HelpEntry> entries;
  for (const Command* command : all_commands()) entries.push_back({command->name, command->summary});
  return entries;
}

std::vector<HelpEntry> option_entries(const Command& command) {
  std::vector<HelpEntry> entries;
  for (const Option& option : command.options) {
    const std::string dashed = (option.letter.empty() ? "--" : "-" + option.letter + ", --") + option.name;
    entries.push_back(
        {option.value.empty() ? dashed : dashed + " " + option.value, option.help, option.detail});
  }
  return entries;
}

std::vector<HelpEntry> exit_statuses(const Command* command) {
  std::vector<HelpEntry> entries{
      {"0", "done"},
      {"1", "a file could not be read or written, or there is not enough memory"},
      {"2", "the command line or a file is wrong; every fault of a file is listed"}};
  if (command != nullptr &&
      std::ranges::find(command->options, "fail-if-weak", &Option::name) != command->options.end())
    entries.push_back({"3", "--fail-if-weak was given, and a device or an area is weak"});
  entries.push_back({"4", "a defect of the program"});
  return entries;
}

std::vector<HelpEntry> examples(const Command* command) {
  if (command == nullptr) {
    return {{"linkmargin starter --output site.yaml", "a small site file to start from"},
            {"linkmargin draw site.yaml --output site.svg", "look at the plan"},
            {"linkmargin check site.yaml", "which devices are weak"},
            {"linkmargin explain site.yaml 'hall motion'", "why"}};
  }
  std::vector<HelpEntry> entries;
  for (std::size_t i = 0; i + 1 < command->examples.size(); i += 2)
    entries.push_back({command->examples[i], command->examples[i + 1]});
  return entries;
}

std::vector<std::string> help_cautions() {
  const Wording wording(built_in_language("en"));
  std::vector<std::string> cautions;
  for (const Block& line :
       closing_cautions(wording, {StandingCaution::reading_decides, StandingCaution::detectors_stay}))
    cautions.push_back(std::get<Paragraph>(line).text);
  cautions.emplace_back("'linkmargin cautions' lists all of them.");
  return cautions;
}

std::string program_help() {
  return paragraph(kProgramDetails) +
         "\nUSAGE\n  linkmargin COMMAND ...\n  linkmargin COMMAND --help\n  linkmargin --help | --version\n" +
         section("COMMANDS", command_entries()) + section("EXIT STATUS", exit_statuses(nullptr)) +
         section("EXAMPLES", examples(nullptr)) + cautions_section();
}

std::string command_help(const Command& command) {
  return "USAGE\n  linkmargin " + command.usage + "\n\n" + paragraph(command.details) +
         section("OPTIONS", option_entries(command)) + section("EXIT STATUS", exit_statuses(&command)) +
         section("EXAMPLES", examples(&command)) + cautions_section();
}

}  // namespace linkmargin::cli
