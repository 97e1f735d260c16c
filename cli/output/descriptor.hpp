#pragma once

#include <unistd.h>
#include <utility>

namespace linkmargin::cli {

/// An open file of the system, closed at the end.
class Descriptor {
 public:
  explicit Descriptor(int number) : number_(number) {}
  ~Descriptor() {
    if (number_ >= 0) ::close(number_);
  }
  Descriptor(Descriptor&& other) noexcept : number_(std::exchange(other.number_, -1)) {}
  Descriptor& operator=(Descriptor&& other) noexcept {
    std::swap(number_, other.number_);
    return *this;
  }
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;

  bool open() const { return number_ >= 0; }
  int number() const { return number_; }

 private:
  int number_;
};

}  // namespace linkmargin::cli
