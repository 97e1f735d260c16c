#include "linkmargin/yaml/tree/parser_feed.hpp"

#include <algorithm>

namespace linkmargin::yaml {
namespace {

/// Whether the parser may begin something here; words and numbers come after such a sign or a line's end.
bool is_sign(std::string_view text, std::size_t i) {
  switch (text[i]) {
    case '[':
    case ']':
    case '{':
    case '}':
    case ',':
    case ':':
    case '"':
    case '\'':
    case '&':
    case '*':
    case '!':
      return true;
    case '-':
    case '?':
      return i + 1 == text.size() || text[i + 1] == ' ' || text[i + 1] == '\t' || text[i + 1] == '\n';
    default:
      return false;
  }
}

}  // namespace

std::size_t ParserFeed::signs(std::size_t begin, std::size_t end) const {
  std::size_t count = 0;
  for (std::size_t i = begin; i < end; ++i) count += is_sign(text_, i) ? 1U : 0U;
  return count;
}

void ParserFeed::told(std::size_t position) {
  position = std::min(position, given_);
  if (position <= told_) return;
  told_signs_ += signs(told_, position);
  told_ = position;
}

ParserFeed::int_type ParserFeed::underflow() {
  if (given_ == text_.size() || cut_off_) return traits_type::eof();
  if (given_signs_ - told_signs_ > kMaxPendingSigns) {
    cut_off_ = true;
    return traits_type::eof();
  }
  constexpr std::size_t piece = 2048;
  const std::size_t end = std::min(text_.size(), given_ + piece);
  given_signs_ += signs(given_, end);
  char* const first =
      const_cast<char*>(text_.data());  // a stream's buffer is never const, and nothing writes
  setg(first, first + given_, first + end);
  given_ = end;
  return traits_type::to_int_type(*gptr());
}

}  // namespace linkmargin::yaml
