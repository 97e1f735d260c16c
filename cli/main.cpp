#include "linkmargin/base/nearest_name.hpp"
#include "linkmargin/yaml/site/language_yaml.hpp"

#include "output/output.hpp"
#include "support/command.hpp"
#include "support/help.hpp"
#include "support/language.hpp"

#include <algorithm>
#include <exception>
#include <iostream>
#include <new>
#include <string_view>
#include <system_error>

namespace linkmargin::cli {

std::vector<const Command*> all_commands() {
  return {&starter_command(), &sketch_command(),  &trace_command(),     &draw_command(),
          &check_command(),   &explain_command(), &coverage_command(),  &relocate_command(),
          &visit_command(),   &place_command(),   &readings_command(),  &calibrate_command(),
          &whatif_command(),  &report_command(),  &materials_command(), &cautions_command(),
          &manual_command(),  &suggest_command()};
}

namespace {

using Lines = std::vector<std::string>;

const Command& find_command(const std::string& written) {
  std::vector<std::string> names;
  for (const Command* command : all_commands()) {
    if (command->name == written) return *command;
    names.push_back(command->name);
  }
  names.insert(names.end(), {"--help", "--version"});
  const std::string hint = nearest_hint(written, names);
  throw Failure(kBadInput,
                {"linkmargin: unknown command '" + written + "'" + (hint.empty() ? "" : " (" + hint + ")"),
                 "'linkmargin --help' lists the commands"});
}

[[noreturn]] void wrong_count(const Command& command, const std::string& what) {
  throw Failure(kBadInput, Lines{"linkmargin: " + what + " '" + command.name + "'",
                                 "usage: linkmargin " + command.usage});
}

/// The names that a usage line asks for, from a position on: "SITE and DEVICE are missing".
std::string missing_text(const Command& command, std::size_t from) {
  std::vector<std::string> names = needed_names(command);
  names.erase(names.begin(), names.begin() + static_cast<std::ptrdiff_t>(std::min(from, names.size())));
  return built_in_language("en").listed(names, names.size()) + (names.size() == 1 ? " is" : " are") +
         " missing after";
}

bool asks_for_help(const std::vector<std::string>& typed) {
  const auto end = std::find(typed.begin(), typed.end(), "--");
  return std::any_of(typed.begin(), end,
                     [](const std::string& word) { return word == "--help" || word == "-h"; });
}

ExitStatus run(std::vector<std::string> typed) {
  if (typed.empty()) {
    throw Failure(kBadInput,
                  Lines{"usage: linkmargin COMMAND ...", "'linkmargin --help' lists the commands"});
  }
  const std::string first = typed.front();
  typed.erase(typed.begin());
  if (first == "--help" || first == "-h") {
    write_answer({}, program_help());
    return kDone;
  }
  if (first == "--version") {
    write_answer({}, "linkmargin " LINKMARGIN_VERSION "\n");
    return kDone;
  }
  const Command& command = find_command(first);
  if (asks_for_help(typed)) {
    write_answer({}, command_help(command));
    return kDone;
  }
  Arguments arguments = parse_arguments(typed, command.options);
  arguments.names_are_files = command.names_are_files;
  if (arguments.names.size() < command.least_names)
    wrong_count(command, missing_text(command, arguments.names.size()));
  if (arguments.names.size() > command.most_names) wrong_count(command, "too many names after");
  if (arguments.has("language")) (void)language_of(arguments);  // a wrong one is told before any work
  return command.run(arguments);
}

}  // namespace
}  // namespace linkmargin::cli

int main(int count, char** words) {
  using namespace linkmargin::cli;
  try {
    prepare_output();
    return run({words + std::min(count, 1), words + count});
  } catch (const Failure& failure) {
    say_failure(failure);
    return failure.status;
  } catch (const std::bad_alloc&) {
    // Said without asking for any more.
    constexpr std::string_view said =
        "linkmargin: there is not enough memory for this: give the program more (ulimit -v), or ask for "
        "less, by "
        "a wider --step or fewer --threads\n";
    std::cerr.write(said.data(), static_cast<std::streamsize>(said.size()));
    return kNoAccess;
  } catch (const std::system_error& refusal) {
    say_failure(
        Failure(kNoAccess, std::string("the system refuses what the program needs: ") + refusal.what()));
    return kNoAccess;
  } catch (const std::exception& defect) {
    say_failure(Failure(kDefect, std::string("a defect of the program, please report it: ") + defect.what()));
  } catch (...) {
    say_failure(Failure(kDefect, std::string("a defect of the program, please report it")));
  }
  return kDefect;
}
