#pragma once

#include "linkmargin/base/diagnostic.hpp"

#include <cassert>
#include <utility>
#include <variant>

namespace linkmargin {

/// A value, or all the faults that kept it from being made. The vocabulary is that of std::expected, so that
/// it can be swapped for it under C++23.
template <typename T>
class Result {
 public:
  Result(T value) : content_(std::in_place_index<0>, std::move(value)) {}             // NOLINT(*-explicit-*)
  Result(Diagnostics faults) : content_(std::in_place_index<1>, std::move(faults)) {  // NOLINT(*-explicit-*)
    assert(!error().empty());
  }

  bool has_value() const { return content_.index() == 0; }
  explicit operator bool() const { return has_value(); }

  const T& value() const { return std::get<0>(content_); }
  T& value() { return std::get<0>(content_); }
  const T& operator*() const { return value(); }
  T& operator*() { return value(); }
  const T* operator->() const { return &value(); }
  T* operator->() { return &value(); }
  const Diagnostics& error() const { return std::get<1>(content_); }

 private:
  std::variant<T, Diagnostics> content_;
};

}  // namespace linkmargin
