#pragma once

#include "linkmargin/report/document/write_csv.hpp"

#include "support/arguments.hpp"

#include <string>
#include <vector>

namespace linkmargin::cli {

/// The value of --format; where it is not given, the one of the words that --output ends in (".png", and
/// ".txt" for text, in letters of either size), else `otherwise`, which a name without an ending gets.
/// @throws Failure on another word, on an ending that is none of the words' or not that of --format, and when
/// a picture would go to a terminal or cannot be drawn here
std::string output_format(const Arguments& arguments, const std::vector<std::string>& words,
                          const std::string& otherwise);

/// The same of the commands that answer in text, CSV or JSON.
Format output_format(const Arguments& arguments);

/// How CSV is written, by --csv-style and --precise. @throws Failure on another word
CsvStyle csv_style(const Arguments& arguments);

/// @throws Failure where --csv-style is wrong, and where it or --precise goes with another format
void check_csv_style(const Arguments& arguments, bool is_csv);

/// The one of the words that a file name ends in, else `otherwise`, for a file that an option of its own
/// names. @throws Failure on an ending that is none of the words'
std::string ending_format(const std::string& option, const std::string& file,
                          const std::vector<std::string>& words, const std::string& otherwise);

/// What a file name ends in, in small letters: ".png". Nothing where it has no ending, and where the output
/// is no file of its own.
std::string ending_of(const std::string& file);

}  // namespace linkmargin::cli
