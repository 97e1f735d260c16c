#pragma once

#include "linkmargin/base/diagnostic.hpp"
#include "linkmargin/yaml/node.hpp"

#include <cstddef>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace linkmargin::yaml {

/// The faults of one file, as they are found.
class Faults {
 public:
  explicit Faults(std::string file) : file_(std::move(file)) {}

  /// What stands at the path is then in doubt.
  void add(Mark mark, std::string path, std::string message, std::string hint = {});

  /// A fault that leaves all other values as they are: a key that nobody knows, one that stands there twice.
  void add_stray(Mark mark, std::string path, std::string message, std::string hint);

  /// What stands at a path cannot be relied on, though no fault points there: the key that a mistyped one was
  /// meant to be.
  void doubt(std::string path) { doubtful_.push_back(std::move(path)); }

  bool empty() const { return found_.empty(); }
  std::size_t count() const { return found_.size(); }

  /// The paths in doubt, in no order.
  const std::vector<std::string>& doubtful() const { return doubtful_; }

  /// By line, column, then as found; what would read the same only once.
  Diagnostics sorted() &&;

 private:
  std::string file_;
  Diagnostics found_;
  std::vector<std::string> doubtful_;
};

/// Text of a file as a message may quote it: at most 60 bytes, control characters as \xNN.
std::string shown(std::string_view text);

/// The same in single quotation marks (a name) or double ones (a value as it was written).
std::string quoted(std::string_view text, char mark = '\'');

}  // namespace linkmargin::yaml
