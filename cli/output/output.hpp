#pragma once

#include "linkmargin/report/document/write_text.hpp"

#include "output/files_together.hpp"
#include "support/arguments.hpp"
#include "support/failure.hpp"

#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace linkmargin::cli {

/// Makes a broken pipe and a file size limit ordinary write errors.
void prepare_output();

/// How a text is to be written where --output says: as wide as the terminal, at most 100 columns; coloured on
/// a terminal alone, never with NO_COLOR.
TextStyle text_style(const Arguments& arguments);

/// Whether the answer goes to a terminal.
bool on_terminal(const Arguments& arguments);

/// @throws Failure when it cannot be written; without a word where the reader has seen enough
void write_standard_output(std::string_view text);

/// A pipe, a device or a stream of the process's own: never truncated, never replaced. @throws Failure
void write_straight(const std::string& file, std::string_view text);

/// Writes an answer where --output says. A file is written beside its place and then renamed, so that it is
/// whole or not there; a pipe or device is written straight.
/// @throws Failure when it cannot be written, or would replace a file that the command reads
void write_answer(const Arguments& arguments, std::string_view text);

/// The same with other files beside: all files are written, or none. What goes to the standard output goes
/// last.
void write_answer(const Arguments& arguments, const std::vector<std::pair<FileOut, std::string>>& beside,
                  std::string_view text);

/// The file that an option names beside --output. @throws Failure when it is none of its own
FileOut file_beside(const Arguments& arguments, const std::string& option);

/// @param what  would replace a file that is read: '--output'
[[noreturn]] void refuse_overwriting(const std::string& what, const std::string& read);

/// @throws Failure when there stands a file that the command has read
void refuse_read_file(const std::string& what, const std::string& place);

/// @return 0, or the error of the system
int write_all(int descriptor, std::string_view text);

/// @param error  of the system
[[noreturn]] void fail_to_write(const std::string& file, int error);

/// Says why, on the error stream.
void say_failure(const Failure& failure);

}  // namespace linkmargin::cli
