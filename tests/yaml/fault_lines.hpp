#pragma once

#include "linkmargin/base/result.hpp"

#include <string>

/// All faults, one a line as a person sees them; an empty text when there are none.
inline std::string fault_lines(const linkmargin::Diagnostics& faults) {
  std::string lines;
  for (const linkmargin::Diagnostic& fault : faults) lines += to_text(fault) + "\n";
  return lines;
}

template <typename T>
std::string fault_lines(const linkmargin::Result<T>& result) {
  return result ? std::string() : fault_lines(result.error());
}
