#include "output/output_format.hpp"

#include "linkmargin/base/letter_case.hpp"

#include "output/output.hpp"
#include "output/output_place.hpp"
#include "output/picture.hpp"
#include "support/failure.hpp"

#include <algorithm>
#include <filesystem>
#include <optional>

namespace linkmargin::cli {
namespace {

std::string ending_for(const std::string& word) {
  return word == "text" ? ".txt" : "." + word;
}

[[noreturn]] void refuse_ending(const std::string& option, const std::string& ending,
                                const std::vector<std::string>& words,
                                const std::optional<std::string>& format) {
  const std::string ends = "--" + option + " ends in '" + ending + "', ";
  if (format) {
    throw Failure(kBadInput, ends + "but --format says " + *format + ": let the name end in '" +
                                 ending_for(*format) + "', or leave --format out");
  }
  std::vector<std::string> endings;
  for (const std::string& word : words) endings.push_back(ending_for(word));
  throw Failure(kBadInput, ends + "which stands for no format: take " + choice(endings));
}

/// A terminal is flooded with the text of a drawing, and takes no bytes of a picture.
void keep_off_terminal(const Arguments& arguments, const std::string& format) {
  if (!on_terminal(arguments)) return;
  if (is_rendered(format))
    throw Failure(kBadInput, "a picture is nothing for a terminal: name a file with --output");
  if (format == "svg")
    throw Failure(
        kBadInput,
        "a drawing is nothing for a terminal: name a file, --output plan.svg, and open it in a browser");
}

}  // namespace

std::string ending_of(const std::string& file) {
  if (goes_to_stream(file)) return {};
  return lower_case(std::filesystem::path(file).extension().string());
}

std::string ending_format(const std::string& option, const std::string& file,
                          const std::vector<std::string>& words, const std::string& otherwise) {
  const std::string ending = ending_of(file);
  if (ending.empty()) return otherwise;
  const auto ended = std::ranges::find(words, ending, ending_for);
  if (ended == words.end()) refuse_ending(option, ending, words, {});
  return *ended;
}

std::string output_format(const Arguments& arguments, const std::vector<std::string>& words,
                          const std::string& otherwise) {
  const std::string file = arguments.value("output").value_or(kStandardOutput);
  std::string format = otherwise;
  if (arguments.has("format")) {
    format = arguments.word("format", words);
    const std::string ending = ending_of(file);
    if (!ending.empty() && ending != ending_for(format)) refuse_ending("output", ending, words, format);
  } else {
    format = ending_format("output", file, words, otherwise);
  }
  check_csv_style(arguments, format == "csv");
  keep_off_terminal(arguments, format);
  return format;
}

CsvStyle csv_style(const Arguments& arguments) {
  const bool comma = arguments.word("csv-style", {"decimal-point", "decimal-comma"}) == "decimal-comma";
  return {.decimal_comma = comma, .precise = arguments.has("precise")};
}

void check_csv_style(const Arguments& arguments, bool is_csv) {
  (void)csv_style(arguments);
  for (const char* option : {"csv-style", "precise"}) {
    if (!is_csv && arguments.has(option))
      throw Failure(kBadInput, "--" + std::string(option) + " is for CSV: give --format csv with it");
  }
}

Format output_format(const Arguments& arguments) {
  const std::string format = output_format(arguments, {"text", "csv", "json"}, "text");
  return format == "csv" ? Format::csv : format == "json" ? Format::json : Format::text;
}

}  // namespace linkmargin::cli
