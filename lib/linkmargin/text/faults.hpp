#pragma once

#include "linkmargin/base/diagnostic.hpp"
#include "linkmargin/text/file_limits.hpp"
#include "linkmargin/text/mark.hpp"

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace linkmargin {

/// The faults of one file, as they are found.
class Faults {
 public:
  explicit Faults(std::string file) : file_(std::move(file)) {}

  /// What stands at the path is then in doubt.
  void add(Mark mark, DiagnosticCode code, std::string path, std::string message, std::string hint = {});

  /// The same; file, line and column of the fault are set here.
  void add(Mark mark, Diagnostic fault);

  /// A fault that leaves all other values as they are: a key that nobody knows, one that stands there twice.
  void add_stray(Mark mark, DiagnosticCode code, std::string path, std::string message, std::string hint);

  /// What stands at a path cannot be relied on, though no fault points there: the key that a mistyped one was
  /// meant to be.
  void doubt(std::string path);

  bool empty() const { return count_ == 0; }
  std::size_t count() const { return count_; }

  /// Whether more are found than are listed: a hint is then not worth a search, and what only follows from
  /// other values not worth a look.
  bool full() const { return count_ >= kMostFaults; }

  /// The paths in doubt, in no order.
  const std::vector<std::string>& doubtful() const { return doubtful_; }

  /// By line, column, then as found; what would read the same only once. After kMostFaults of them one says
  /// how many more there are.
  Diagnostics sorted() &&;

 private:
  void keep(Mark mark, Diagnostic fault);
  void keep_first();

  std::string file_;
  Diagnostics found_;  // those that may be listed
  std::size_t count_ = 0;
  std::vector<std::uint64_t> places_;  // of all found, as hashes
  std::vector<std::string> doubtful_;
};

/// Text of a file as a message may quote it: at most 60 bytes, control characters as \xNN.
std::string shown(std::string_view text);

/// The same in single quotation marks (a name) or double ones (a value as it was written).
std::string quoted(std::string_view text, char mark = '\'');

}  // namespace linkmargin
