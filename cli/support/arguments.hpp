#pragma once

#include "linkmargin/base/range.hpp"

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace linkmargin::cli {

/// One option of a command.
struct Option {
  std::string name;   ///< without dashes
  std::string value;  ///< what stands for its value in the help; empty: it takes none
  std::string help;
  std::string letter{};              ///< for short, after one dash; empty: none
  std::vector<std::string> words{};  ///< its values; beside names and files those words that it takes too
  std::string detail{};              ///< sentences that the manual page adds to the help; may be empty
};

Option with_detail(Option option, const std::string& detail);

extern const Option kFormat;
extern const Option kPictureFormat;  ///< of answers that may be pictures too
extern const Option kOutput;
extern const Option kCsvStyle;
extern const Option kPrecise;
extern const Option kThreads;
extern const Option kDoors;
extern const Option kFrame;
extern const Option kMaterials;
extern const Option kLanguage;
extern const Option kReadings;
extern const Option kDecidingReadings;  ///< where they decide what is weak, too
extern const Option kChance;
extern const Option kHelp;

/// "svg, png or csv".
std::string choice(const std::vector<std::string>& words);

enum class Format { text, csv, json };

/// What was typed after a command's name.
struct Arguments {
  std::vector<std::string> names;              ///< SITE, DEVICE and the like
  std::map<std::string, std::string> options;  ///< by name; flags have an empty value
  bool names_are_files = false;                ///< all of them are read; else the first alone

  bool has(const std::string& option) const { return options.contains(option); }
  std::optional<std::string> value(const std::string& option) const;

  /// The value as one of a few words, the first where the option is absent.
  /// @throws Failure naming the words, and the nearest one
  std::string word(const std::string& option, const std::vector<std::string>& words) const;

  Format format() const;
  int threads() const;  ///< 1..256; absent: as many as the machine runs at once
  bool doors_open() const;
  /// @throws Failure when it is no number or not in the range
  std::optional<double> number(const std::string& option, const Range& range) const;
  /// Percentages with commas between: "28,33,31", "28 %, 33 %". Empty where the option is absent.
  std::vector<double> percents(const std::string& option) const;
  double frequency_mhz() const;  ///< within limits::kFrequencyMhz; absent: 868.3

  /// The names from a position on as one, with blanks between: a name of several words need not be quoted.
  std::string name_from(std::size_t position) const;
};

/// @throws Failure on an unknown option (with the nearest known one), a missing value, an option given twice
Arguments parse_arguments(const std::vector<std::string>& typed, const std::vector<Option>& known);

}  // namespace linkmargin::cli
