#include "linkmargin/text/line_counter.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";

}  // namespace

std::string_view without_mark(std::string_view bytes) {
  if (bytes.starts_with(kByteOrderMark)) bytes.remove_prefix(kByteOrderMark.size());
  return bytes;
}

std::string with_line_feeds(std::string_view bytes) {
  std::string text;
  text.reserve(bytes.size());
  for (std::size_t i = 0; i < bytes.size(); ++i) {
    if (bytes[i] != '\r') {
      text += bytes[i];
    } else {
      text += '\n';
      if (i + 1 < bytes.size() && bytes[i + 1] == '\n') ++i;
    }
  }
  return text;
}

Mark end_of(std::string_view bytes) {
  const std::string text = with_line_feeds(without_mark(bytes));
  return LineCounter(text).at(text.size());
}

Mark LineCounter::at(std::size_t position) {
  position = std::min(position, text_.size());
  if (position < position_) {
    position_ = position / kPitch * kPitch;
    mark_ = passed_[position / kPitch];
  }
  for (; position_ < position; ++position_) {
    if (position_ == passed_.size() * kPitch) passed_.push_back(mark_);
    if (text_[position_] == '\n') {
      ++mark_.line;
      mark_.column = 1;
    } else if ((static_cast<unsigned char>(text_[position_]) & 0xC0U) != 0x80U) {
      ++mark_.column;
    }
  }
  return mark_;
}

}  // namespace linkmargin
