#pragma once

#include "linkmargin/report/write_text.hpp"

#include "arguments.hpp"
#include "failure.hpp"

#include <string_view>

namespace linkmargin::cli {

/// Makes a broken pipe and a file size limit ordinary write errors.
void prepare_output();

/// How a text is to be written where --output says: as wide as the terminal, at most 100 columns; coloured on
/// a terminal alone, never with NO_COLOR.
TextStyle text_style(const Arguments& arguments);

/// The value of --format; where it is not given, the one of the words that --output ends in (".png", and
/// ".txt" for text, in letters of either size), else `otherwise`, which a name without an ending gets.
/// @throws Failure on another word, on an ending that is none of the words' or not that of --format, and when
/// a PNG would go to a terminal
std::string picture_format(const Arguments& arguments, const std::vector<std::string>& words,
                           const std::string& otherwise);

/// The one of the words that a file name ends in, else `otherwise`, for a file that an option of its own
/// names. @throws Failure on an ending that is none of the words'
std::string ending_format(const std::string& option, const std::string& file,
                          const std::vector<std::string>& words, const std::string& otherwise);

/// @throws Failure when it cannot be written; without a word where the reader has seen enough
void write_standard_output(std::string_view text);

/// Writes an answer where --output says. A file is written beside its place and then renamed, so that it is
/// whole or not there; a pipe or device is written straight.
/// @throws Failure when it cannot be written, or would replace a file that the command reads
void write_answer(const Arguments& arguments, std::string_view text);

/// The same for a second file, which an option of its own names. Never to the standard output.
void write_beside(const Arguments& arguments, const std::string& option, std::string_view text);

/// A file that is to be written, and the option that asks for it.
struct FileOut {
  std::string option;
  std::string file;
};

/// Before any work, for files beside the answer.
/// @throws Failure when a name is none for a file of its own, when two are the same, and when one is read
void check_files_out(const Arguments& arguments, const std::vector<FileOut>& files);

/// Writes one of them as write_answer() does.
void write_file_out(const Arguments& arguments, const FileOut& out, std::string_view text);

/// Whether what --output names is no file of its own: the standard output, a pipe, a device.
bool goes_to_stream(const std::string& file);

/// Where a file that is to be written stands, links followed.
std::string written_place(const std::string& file);

/// @throws Failure when the option's file is one that the command reads
void refuse_input(const Arguments& arguments, const std::string& option, const std::string& file);

/// @return 0, or the error of the system
int write_all(int descriptor, std::string_view text);

/// Whole or not there.
void write_whole(const std::string& file, std::string_view text);

/// @param error  of the system
[[noreturn]] void fail_to_write(const std::string& file, int error);

/// Says why, on the error stream.
void say_failure(const Failure& failure);

}  // namespace linkmargin::cli
