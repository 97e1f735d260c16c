#include "manual/suggestions.hpp"

#include "support/input.hpp"

#include <algorithm>
#include <filesystem>
#include <iterator>
#include <optional>

namespace linkmargin::cli {
namespace {

/// A command line that is not finished.
struct TypedLine {
  const Command& command;
  Arguments arguments{};          ///< what is whole
  const Option* asked = nullptr;  ///< the option whose value is being typed
  bool only_names = false;        ///< after --
  std::string beginning;          ///< of the last word
  std::string before_value{};     ///< "--format=" where the value is typed in the same word
};

const Option* find_option(const Command& command, const std::string& word) {
  const auto found = std::ranges::find_if(command.options, [&](const Option& option) {
    return word == "--" + option.name || (!option.letter.empty() && word == "-" + option.letter);
  });
  return found == command.options.end() ? nullptr : &*found;
}

TypedLine parsed_line(const Command& command, const std::vector<std::string>& words) {
  TypedLine line{.command = command, .beginning = words.back()};
  for (std::size_t i = 0; i + 1 < words.size(); ++i) {
    const std::string& word = words[i];
    if (line.asked != nullptr) {
      line.arguments.options[line.asked->name] = word;
      line.asked = nullptr;
    } else if (!line.only_names && word == "--") {
      line.only_names = true;
    } else if (line.only_names || !word.starts_with("-") || word == kStandardInput) {
      line.arguments.names.push_back(word);
    } else if (const auto equals = word.find('='); equals != std::string::npos) {
      if (const Option* option = find_option(command, word.substr(0, equals)))
        line.arguments.options[option->name] = word.substr(equals + 1);
    } else if (const Option* option = find_option(command, word)) {
      line.arguments.options[option->name];
      if (!option->value.empty()) line.asked = option;
    }
  }
  const auto equals = line.beginning.find('=');
  if (line.asked == nullptr && line.beginning.starts_with("--") && equals != std::string::npos) {
    line.asked = find_option(command, line.beginning.substr(0, equals));
    line.before_value = line.beginning.substr(0, equals + 1);
    line.beginning.erase(0, equals + 1);
  }
  return line;
}

/// What may be read while a person types: no pipe, which would wait, and not the standard input.
bool is_file(const std::string& name) {
  std::error_code error;
  return std::filesystem::is_regular_file(name, error);
}

/// The tables with those of --materials; the built-in ones where that file cannot be read or is wrong.
Tables typed_tables(const Arguments& arguments) {
  try {
    if (is_file(arguments.value("materials").value_or(""))) return read_tables(arguments);
  } catch (const Failure&) {
  }
  return embedded_tables();
}

/// The site of the first name; none where it cannot be read or is wrong.
std::optional<Site> named_site(const Arguments& arguments) {
  if (arguments.names.empty() || !is_file(arguments.names.front())) return {};
  try {
    return read_site_file(arguments.names.front(), typed_tables(arguments)).site;
  } catch (const Failure&) {
    return {};
  }
}

template <typename Named>
void add_names(std::vector<HelpEntry>& words, const std::vector<Named>& things, const std::string& what) {
  for (const Named& thing : things) words.push_back({thing.name, what});
}

/// Names of a site or a table, by what an option or a place of the usage line calls them.
std::vector<HelpEntry> names_of_kind(const TypedLine& line, const std::string& kind) {
  std::vector<HelpEntry> words;
  if (kind == "MATERIAL") {
    for (const auto& [name, material] : typed_tables(line.arguments).materials)
      words.push_back({name, "material"});
    return words;
  }
  const std::optional<Site> site = named_site(line.arguments);
  if (!site) return {};
  if (kind == "DEVICE") add_names(words, site->devices, "device");
  if (kind == "storey") add_names(words, site->storeys, "storey");
  if (kind == "hub") {
    add_names(words, site->hubs, "hub");
    if (line.command.name == "explain") add_names(words, site->repeaters, "repeater");
  }
  if (kind == "profile") {
    for (const auto& [name, profile] : site->profiles) {
      if (profile.transmit) words.push_back({name, "profile"});
    }
  }
  return words;
}

/// A name of several words need not be quoted: what is left of those names that begin with the words typed.
std::vector<HelpEntry> rest_of_names(const std::vector<HelpEntry>& names, const std::string& typed) {
  std::vector<HelpEntry> rest;
  for (const HelpEntry& name : names) {
    if (name.left.starts_with(typed + " ")) rest.push_back({name.left.substr(typed.size() + 1), name.right});
  }
  return rest;
}

Suggestions value_suggestions(const TypedLine& line) {
  const Option& option = *line.asked;
  Suggestions found;
  for (const std::string& word : option.words) found.words.push_back({word, option.name});
  for (const char* kind : {"storey", "hub", "profile"}) {
    if (option.name == kind) std::ranges::move(names_of_kind(line, kind), std::back_inserter(found.words));
  }
  for (const char* value : {"FILE", "OUT", "PICTURE", "LANGUAGE"})
    found.files = found.files || option.value == value;
  for (HelpEntry& word : found.words) word.left = line.before_value + word.left;
  return found;
}

/// What the usage line has at the place of the next name.
Suggestions name_suggestions(const TypedLine& line) {
  const std::vector<std::string> kinds = usage_names(line.command);
  const std::vector<std::string>& typed = line.arguments.names;
  if (typed.size() >= line.command.most_names || kinds.empty()) return {};
  const std::size_t place = std::min(typed.size(), kinds.size() - 1);
  const std::string& kind = kinds[place];
  if (kind == "COMMAND") return {.words = command_entries()};
  if (kind != "DEVICE" && kind != "MATERIAL") return {.files = true, .words = {}};
  const std::vector<HelpEntry> names = names_of_kind(line, kind);
  if (typed.size() == place) return {.words = names};
  Suggestions found{.words = rest_of_names(names, line.arguments.name_from(place))};
  if (line.command.usage.find("[" + kind + "...") != std::string::npos && found.words.empty())
    found.words = names;
  return found;
}

void keep_beginning(Suggestions& found, const std::string& beginning) {
  std::erase_if(found.words, [&](const HelpEntry& word) { return !word.left.starts_with(beginning); });
}

Suggestions option_suggestions(const TypedLine& line) {
  Suggestions found;
  for (const Option& option : line.command.options) {
    if (!line.arguments.has(option.name)) found.words.push_back({"--" + option.name, option.help});
  }
  return found;
}

Suggestions first_word() {
  Suggestions found{.words = command_entries()};
  found.words.push_back({"--help", "lists the commands"});
  found.words.push_back({"--version", "the version of the program"});
  return found;
}

/// Some shells give "--format=csv" as three words.
std::vector<std::string> joined_values(std::vector<std::string> words) {
  if (words.size() > 1 && words.back() == "=") words.back().clear();
  std::erase(words, "=");
  return words;
}

}  // namespace

Suggestions suggestions(std::vector<std::string> typed) {
  typed = joined_values(std::move(typed));
  if (typed.empty()) return {};
  if (typed.size() == 1) {
    Suggestions found = first_word();
    keep_beginning(found, typed.back());
    return found;
  }
  for (const Command* command : all_commands()) {
    if (command->name != typed.front()) continue;
    const TypedLine line = parsed_line(*command, {typed.begin() + 1, typed.end()});
    const bool option = !line.only_names && line.beginning.starts_with("-");
    Suggestions found = line.asked != nullptr ? value_suggestions(line)
                        : option              ? option_suggestions(line)
                                              : name_suggestions(line);
    keep_beginning(found, line.before_value + line.beginning);
    return found;
  }
  return {};
}

}  // namespace linkmargin::cli
