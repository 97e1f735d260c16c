#include "support/arguments.hpp"

#include "linkmargin/base/nearest_name.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/base/range.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/text/blanks.hpp"

#include "support/failure.hpp"

#include <boost/program_options.hpp>

#include <algorithm>
#include <cmath>
#include <thread>

namespace linkmargin::cli {
namespace {

namespace po = boost::program_options;

constexpr const char* kNames = "linkmargin-names";
constexpr Range kThreadRange{1, 256, "--threads", "more gains nothing"};
constexpr double kUsualFrequencyMhz = 868.3;

[[noreturn]] void unknown_option(const std::string& written, const std::vector<Option>& known) {
  std::vector<std::string> names;
  for (const Option& option : known) names.push_back("--" + option.name);
  const std::string hint = nearest_hint(written, names);
  throw Failure(kBadInput, "unknown option '" + written + "'" + (hint.empty() ? "" : " (" + hint + ")"));
}

/// An option without the value that it takes, or with one where it takes none.
std::string wrong_value(const po::invalid_command_line_syntax& fault, const std::vector<Option>& known) {
  const std::string dashed = fault.get_option_name();
  if (fault.kind() == po::invalid_syntax::extra_parameter) return "'" + dashed + "' takes no value";
  const auto option =
      std::ranges::find_if(known, [&](const Option& one) { return "--" + one.name == dashed; });
  return "'" + dashed + "' takes a value" +
         (option == known.end() ? "" : ": " + dashed + " " + option->value);
}

double number(const std::string& option, const std::string& text, const Range& range) {
  const auto value = parse_number(text);
  if (!value) throw Failure(kBadInput, "--" + option + " takes a number, not '" + text + "'");
  if (!range.contains(*value)) {
    throw Failure(kBadInput, "--" + option + " takes " + shortest_text(range.min) + " to " +
                                 shortest_text(range.max) + ", not '" + text + "'");
  }
  return *value;
}

po::options_description described(const std::vector<Option>& known) {
  po::options_description description;
  for (const Option& option : known) {
    const std::string names = option.letter.empty() ? option.name : option.name + "," + option.letter;
    if (option.value.empty()) {
      description.add_options()(names.c_str(), "");
    } else {
      description.add_options()(names.c_str(), po::value<std::string>(), "");
    }
  }
  description.add_options()(kNames, po::value<std::vector<std::string>>(), "");
  return description;
}

}  // namespace

const Option kFormat{"format",
                     "FORMAT",
                     "text, csv or json; default: by the ending of --output (.txt for text), else text",
                     "",
                     {"text", "csv", "json"}};
const Option kPictureFormat{
    "format",
    "FORMAT",
    "text, svg, png, pdf, csv or json; default: by the ending of --output (.txt for text), else text",
    "",
    {"text", "svg", "png", "pdf", "csv", "json"}};
const Option kOutput{"output", "FILE",
                     "write to this file, completely or not at all; a pipe or device is written directly",
                     "o"};
const Option kCsvStyle{
    "csv-style",
    "STYLE",
    "of csv: decimal-point (default), commas between fields; decimal-comma, semicolons between fields",
    "",
    {"decimal-point", "decimal-comma"}};
const Option kPrecise{"precise", "", "csv with all digits, not only those that are known"};
const Option kThreads{"threads", "N", "threads to use, 1 to 256; the result is the same with any number"};
const Option kFrame{"frame",
                    "WHAT",
                    "what plans show large: building (default), the main building, with a small plan of all "
                    "beside it where more lies about; all: everything on the storey",
                    "",
                    {"building", "all"}};
const Option kDoors{"doors",
                    "STATE",
                    "armed (default): all doors, gates and windows closed; open: those that open stand open",
                    "",
                    {"armed", "open"}};
const Option kMaterials{"materials", "FILE",
                        "adds materials to the table, or replaces those of the same name"};
const Option kLanguage{
    "language",
    "LANGUAGE",
    "en, de, or a language file (.yaml); default: the language of the system, English in CSV and JSON",
    "",
    {"en", "de"}};
const Option kReadings{"readings", "FILE",
                       "readings taken on site (CSV); they correct the predictions near them"};
const Option kDecidingReadings{
    "readings", "FILE",
    "readings taken on site (CSV); they decide what is weak, and correct the predictions near them"};
const Option kChance{"chance", "SHARE",
                     "the chance needed of reaching the threshold, 0.5 to 0.999; default: 0.9"};
const Option kHelp{"help", "", "this help", "h"};

Option with_detail(Option option, const std::string& detail) {
  option.detail = detail;
  return option;
}

std::string choice(const std::vector<std::string>& words) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) {
    text += (i == 0 ? "" : i + 1 == words.size() ? " or " : ", ") + words[i];
  }
  return text;
}

std::optional<std::string> Arguments::value(const std::string& option) const {
  const auto found = options.find(option);
  return found == options.end() ? std::nullopt : std::optional(found->second);
}

std::string Arguments::word(const std::string& option, const std::vector<std::string>& words) const {
  const std::string written = value(option).value_or(words.front());
  if (std::find(words.begin(), words.end(), written) != words.end()) return written;
  const std::string hint = nearest_hint(written, words);
  throw Failure(kBadInput, "--" + option + " takes " + choice(words) + ", not '" + written + "'" +
                               (hint.empty() ? "" : " (" + hint + ")"));
}

Format Arguments::format() const {
  const std::string written = word("format", {"text", "csv", "json"});
  return written == "csv" ? Format::csv : written == "json" ? Format::json : Format::text;
}

int Arguments::threads() const {
  const auto written = value("threads");
  if (!written) return static_cast<int>(std::clamp(std::thread::hardware_concurrency(), 1U, 256U));
  const double count = cli::number("threads", *written, kThreadRange);
  if (count != std::floor(count))
    throw Failure(kBadInput, "--threads takes a whole number, not '" + *written + "'");
  return static_cast<int>(count);
}

bool Arguments::doors_open() const {
  return word("doors", {"armed", "open"}) == "open";
}

std::optional<double> Arguments::number(const std::string& option, const Range& range) const {
  const auto written = value(option);
  return written ? std::optional(cli::number(option, *written, range)) : std::nullopt;
}

std::vector<double> Arguments::percents(const std::string& option) const {
  const auto written = value(option);
  std::vector<double> all;
  for (std::size_t from = 0; written && from <= written->size();) {
    const std::size_t comma = std::min(written->find(',', from), written->size());
    std::string_view one = trimmed(std::string_view(*written).substr(from, comma - from));
    if (one.ends_with('%')) one = trimmed(one.substr(0, one.size() - 1));
    all.push_back(cli::number(option, std::string(one), limits::kPercent));
    from = comma + 1;
  }
  return all;
}

double Arguments::frequency_mhz() const {
  return number("frequency-mhz", limits::kFrequencyMhz).value_or(kUsualFrequencyMhz);
}

std::string Arguments::name_from(std::size_t position) const {
  std::string name;
  for (std::size_t i = position; i < names.size(); ++i) name += (i == position ? "" : " ") + names[i];
  return name;
}

Arguments parse_arguments(const std::vector<std::string>& typed, const std::vector<Option>& known) {
  po::positional_options_description positions;
  positions.add(kNames, -1);
  po::variables_map map;
  try {
    const po::options_description description = described(known);
    po::store(po::command_line_parser(typed)
                  .options(description)
                  .positional(positions)
                  .style(po::command_line_style::unix_style & ~po::command_line_style::allow_guessing)
                  .run(),
              map);
  } catch (const po::unknown_option& fault) {
    unknown_option(fault.get_option_name(), known);
  } catch (const po::multiple_occurrences& fault) {
    throw Failure(kBadInput, "'" + fault.get_option_name() + "' is given twice");
  } catch (const po::invalid_command_line_syntax& fault) {
    throw Failure(kBadInput, wrong_value(fault, known));
  } catch (const po::error& fault) {
    throw Failure(kBadInput, fault.what());
  }
  Arguments arguments;
  for (const auto& [name, value] : map) {
    if (name == kNames) {
      arguments.names = value.as<std::vector<std::string>>();
    } else {
      const auto* text = boost::any_cast<std::string>(&value.value());
      arguments.options[name] = text == nullptr ? std::string() : *text;
    }
  }
  return arguments;
}

}  // namespace linkmargin::cli
