#pragma once

namespace linkmargin::cli {

/// While it lives, Ctrl-C does not end the program at once: whoever works asks whether it came. A second one
/// ends it as usual.
class Interruption {
 public:
  Interruption();
  ~Interruption();
  Interruption(const Interruption&) = delete;
  Interruption& operator=(const Interruption&) = delete;

  bool came() const;
};

}  // namespace linkmargin::cli
