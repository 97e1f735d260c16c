#include "linkmargin/yaml/writer/splice.hpp"

#include <algorithm>

namespace linkmargin::yaml {
namespace {

constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";

std::string_view line_end_of(std::string_view bytes) {
  const std::size_t first = bytes.find_first_of("\r\n");
  if (first == std::string_view::npos || bytes[first] == '\n') return "\n";
  return bytes.substr(first, 2) == "\r\n" ? "\r\n" : "\r";
}

std::string with_line_end(std::string_view text, std::string_view line_end) {
  std::string result;
  for (const char letter : text) {
    if (letter == '\n') {
      result += line_end;
    } else {
      result += letter;
    }
  }
  return result;
}

/// Follows positions that rise, in the guarded text and in the bytes it was made from.
class Follower {
 public:
  explicit Follower(std::string_view bytes)
      : bytes_(bytes), at_(bytes.starts_with(kByteOrderMark) ? kByteOrderMark.size() : 0) {}

  std::size_t byte_of(std::size_t position) {
    for (; position_ < position && at_ < bytes_.size(); ++position_) {
      at_ += bytes_.substr(at_, 2) == "\r\n" ? 2U : 1U;
    }
    return at_;
  }

 private:
  std::string_view bytes_;
  std::size_t at_;
  std::size_t position_ = 0;
};

}  // namespace

std::string spliced(std::string_view bytes, std::vector<Splice> splices) {
  std::ranges::stable_sort(splices, {}, &Splice::position);
  const std::string_view line_end = line_end_of(bytes);
  Follower follower(bytes);
  std::string result;
  std::size_t copied = 0;
  for (const Splice& splice : splices) {
    const std::size_t begin = follower.byte_of(splice.position);
    result += bytes.substr(copied, begin - copied);
    result += with_line_end(splice.text, line_end);
    copied = follower.byte_of(splice.position + splice.length);
  }
  return result += bytes.substr(copied);
}

}  // namespace linkmargin::yaml
