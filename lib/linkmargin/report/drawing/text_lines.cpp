#include "linkmargin/report/drawing/text_lines.hpp"

#include "linkmargin/text/display_text.hpp"

#include <utility>

namespace linkmargin {
namespace {

constexpr double kBoldWidth = 1.12;  // to plain letters, of DejaVu Sans
constexpr std::string_view kEllipsis = "\u2026";

/// As many bytes of a word as a line holds, at least a letter's.
std::size_t bytes_within(std::string_view word, const Lettering& lettering, double width_px) {
  std::size_t bytes = decode_utf8(word, 0).bytes;
  while (bytes < word.size()) {
    const std::size_t next = bytes + decode_utf8(word, bytes).bytes;
    if (text_width_px(word.substr(0, next), lettering) > width_px) break;
    bytes = next;
  }
  return bytes;
}

class Lines {
 public:
  Lines(const Lettering& lettering, double width_px) : lettering_(lettering), width_px_(width_px) {}

  void add_word(std::string_view word) {
    const std::string longer = line_.empty() ? std::string(word) : line_ + " " + std::string(word);
    if (text_width_px(longer, lettering_) <= width_px_) {
      line_ = longer;
      return;
    }
    if (!line_.empty()) end_line();
    while (text_width_px(word, lettering_) > width_px_) {
      const std::size_t bytes = bytes_within(word, lettering_, width_px_);
      if (bytes == word.size()) break;
      lines_.emplace_back(word.substr(0, bytes));
      word.remove_prefix(bytes);
    }
    line_ = word;
  }

  void end_line() { lines_.push_back(std::exchange(line_, {})); }

  std::vector<std::string> take() { return std::move(lines_); }

 private:
  const Lettering& lettering_;
  double width_px_;
  std::string line_;
  std::vector<std::string> lines_;
};

}  // namespace

double text_width_px(std::string_view text, const Lettering& lettering) {
  return svg::text_width_em(text) * lettering.font_px * (lettering.bold ? kBoldWidth : 1);
}

std::vector<std::string> lines_within(std::string_view text, const Lettering& lettering, double width_px) {
  std::string whole = printable_lines(text);
  for (std::size_t at = whole.find(" %"); at != whole.npos; at = whole.find(" %", at))
    whole.replace(at, 1, "\u00A0");
  std::string_view rest = whole;
  Lines lines(lettering, width_px);
  while (!rest.empty()) {
    const std::size_t end = std::min(rest.find_first_of(" \n\t"), rest.size());
    if (end > 0) lines.add_word(rest.substr(0, end));
    if (end < rest.size() && rest[end] == '\n') lines.end_line();
    rest.remove_prefix(std::min(end + 1, rest.size()));
  }
  lines.end_line();
  return lines.take();
}

std::string fitted(std::string_view text, const Lettering& lettering, double width_px) {
  const std::string whole = printable(text);
  if (text_width_px(whole, lettering) <= width_px) return whole;
  const double room_px = width_px - text_width_px(kEllipsis, lettering);
  return whole.substr(0, bytes_within(whole, lettering, room_px)).append(kEllipsis);
}

}  // namespace linkmargin
