#include "linkmargin/text/faults.hpp"

#include "linkmargin/base/random.hpp"

#include <algorithm>
#include <map>
#include <tuple>
#include <utility>

namespace linkmargin {
namespace {

/// Of what makes a fault read as it does.
std::uint64_t hash_of(Mark mark, const std::string& message, const std::string& hint) {
  const std::string place = std::to_string(mark.line) + ":" + std::to_string(mark.column) + ":";
  return named_stream(place + message + "(" + hint);
}

/// A long list of names is told once; what comes after it says where.
void tell_lists_once(Diagnostics& faults) {
  std::map<std::string, int> told;  // hint and line
  for (Diagnostic& fault : faults) {
    if (!fault.lists_names) continue;
    const auto [first, fresh] = told.emplace(fault.hint, fault.line);
    if (!fresh) fault.hint = "the known ones are listed at line " + std::to_string(first->second);
  }
}

}  // namespace

void Faults::add(Mark mark, DiagnosticCode code, std::string path, std::string message, std::string hint) {
  doubt(path);
  add_stray(mark, code, std::move(path), std::move(message), std::move(hint));
}

void Faults::add(Mark mark, Diagnostic fault) {
  doubt(fault.path);
  keep(mark, std::move(fault));
}

void Faults::add_stray(Mark mark, DiagnosticCode code, std::string path, std::string message,
                       std::string hint) {
  Diagnostic fault;
  fault.code = code;
  fault.path = std::move(path);
  fault.message = std::move(message);
  fault.hint = std::move(hint);
  keep(mark, std::move(fault));
}

void Faults::keep(Mark mark, Diagnostic fault) {
  fault.file = file_;
  fault.line = mark.line;
  fault.column = mark.column;
  ++count_;
  places_.push_back(hash_of(mark, fault.message, fault.hint));
  found_.push_back(std::move(fault));
  if (found_.size() >= 4 * kMostFaults) keep_first();
}

void Faults::doubt(std::string path) {
  if (!full()) doubtful_.push_back(std::move(path));
}

void Faults::keep_first() {
  std::stable_sort(found_.begin(), found_.end(), [](const Diagnostic& left, const Diagnostic& right) {
    return std::tie(left.line, left.column) < std::tie(right.line, right.column);
  });
  Diagnostics kept;
  std::size_t here = 0;  // where the faults of the present line and column begin
  for (Diagnostic& fault : found_) {
    if (kept.size() == kMostFaults) break;
    const bool same_place =
        !kept.empty() && kept.back().line == fault.line && kept.back().column == fault.column;
    if (!same_place) here = kept.size();
    const auto first = kept.begin() + static_cast<std::ptrdiff_t>(here);
    const bool told = std::any_of(first, kept.end(), [&](const Diagnostic& other) {
      return other.message == fault.message && other.hint == fault.hint;
    });
    if (!told) kept.push_back(std::move(fault));
  }
  found_ = std::move(kept);
}

Diagnostics Faults::sorted() && {
  keep_first();
  tell_lists_once(found_);
  std::sort(places_.begin(), places_.end());
  const auto repeated = std::unique(places_.begin(), places_.end());
  const auto different = static_cast<std::size_t>(repeated - places_.begin());
  if (different > found_.size()) {
    const std::size_t more = different - found_.size();
    found_.push_back(
        {file_, 0, 0, "",
         std::to_string(more) + (more == 1 ? " more fault is" : " more faults are") + " not listed",
         "put these right first", DiagnosticCode::not_listed});
  }
  return std::move(found_);
}

std::string shown(std::string_view text) {
  constexpr std::size_t longest = 60;
  constexpr std::string_view digits = "0123456789ABCDEF";
  std::size_t size = std::min(text.size(), longest);
  while (size < text.size() && size > 0 && (static_cast<unsigned char>(text[size]) & 0xC0U) == 0x80U) --size;
  std::string result;
  for (const char letter : text.substr(0, size)) {
    const auto byte = static_cast<unsigned char>(letter);
    if (byte < 0x20 || byte == 0x7F) {
      result += {'\\', 'x', digits[byte >> 4U], digits[byte & 0xFU]};
    } else {
      result += letter;
    }
  }
  return size < text.size() ? result + "..." : result;
}

std::string quoted(std::string_view text, char mark) {
  std::string result(1, mark);
  result += shown(text);
  result += mark;
  return result;
}

}  // namespace linkmargin
