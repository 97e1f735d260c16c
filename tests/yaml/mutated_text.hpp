#pragma once

#include "linkmargin/base/random.hpp"
#include "linkmargin/base/result.hpp"

#include <doctest/doctest.h>

#include <set>
#include <string>
#include <utility>

/// A whole number below size, drawn.
inline std::size_t below(const linkmargin::RandomStream& random, std::uint64_t index, std::size_t size) {
  return static_cast<std::size_t>(random.uniform(index) * static_cast<double>(size));
}

/// Every fault of a file "m" has a place and a message; they stand in order, each once.
inline void check_faults_in_place(const linkmargin::Diagnostics& faults, std::set<std::string>& messages) {
  REQUIRE_FALSE(faults.empty());
  const linkmargin::Diagnostic* before = nullptr;
  for (const linkmargin::Diagnostic& fault : faults) {
    CHECK(fault.line > 0);
    CHECK(fault.column > 0);
    CHECK_FALSE(fault.message.empty());
    CHECK(fault.file == "m");
    if (before != nullptr) {
      CHECK(std::pair(before->line, before->column) <= std::pair(fault.line, fault.column));
      CHECK_FALSE(*before == fault);
    }
    before = &fault;
    messages.insert(fault.message);
  }
}
