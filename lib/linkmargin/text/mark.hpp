#pragma once

namespace linkmargin {

/// A place in a file: line and column count from 1, columns in characters (code points), not bytes.
struct Mark {
  int line = 0;
  int column = 0;
  friend bool operator==(const Mark&, const Mark&) = default;
};

}  // namespace linkmargin
