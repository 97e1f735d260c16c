#include "linkmargin/report/drawing/svg.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/text/display_text.hpp"

namespace linkmargin::svg {

std::string escaped(std::string_view text) {
  std::string safe;
  for (const char letter : printable(text)) {
    switch (letter) {
      case '&':
        safe += "&amp;";
        break;
      case '<':
        safe += "&lt;";
        break;
      case '>':
        safe += "&gt;";
        break;
      case '"':
        safe += "&quot;";
        break;
      default:
        safe += letter;
    }
  }
  return safe;
}

std::string px(double value) {
  std::string text = fixed_text(value, 2);
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text == "-0" ? "0" : text;
}

std::string points(const std::vector<Point2>& corners) {
  std::string text;
  for (const Point2 p : corners) {
    if (!text.empty()) text += ' ';
    text.append(px(p.x)).append(1, ',').append(px(p.y));
  }
  return text;
}

namespace {

/// Of the advance widths of DejaVu Sans, in classes, each no less than the mean of its letters.
double letter_width_em(char32_t letter) {
  const char32_t base = base_letter(letter);
  const auto one_of = [base](std::u32string_view letters) { return letters.find(base) != letters.npos; };
  if (display_width(letter) == 0) return 0;
  if (one_of(U"iljI.,:;'!|() łıιΙіІ")) return 0.36;
  if (one_of(U"frt-/")) return 0.42;
  if (one_of(U"mwMW%@æœÆŒωжмшщыюфМФЫ…—")) return 0.98;
  if (one_of(U"ЖШЩЮ")) return 1.1;
  if (display_width(letter) == 2) return 1.05;
  if (letter_kind(base) == LetterKind::capital) return base < 0x80 ? 0.73 : 0.77;
  return base < 0x80 || letter_kind(base) == LetterKind::small ? 0.63 : 0.75;
}

}  // namespace

double text_width_em(std::string_view text) {
  double width = 0;
  for (std::size_t position = 0; position < text.size();) {
    const CodePoint next = decode_utf8(text, position);
    position += next.bytes;
    width += letter_width_em(next.value);
  }
  return width;
}

void Writer::attribute(std::string_view name, std::string_view value) {
  text_.append(" ").append(name).append("=\"").append(escaped(value)).append("\"");
}

void Writer::begin(std::string_view tag, Attributes attributes) {
  text_.append("<").append(tag);
  for (const auto& [name, value] : attributes) attribute(name, value);
}

void Writer::open(std::string_view tag, Attributes attributes) {
  begin(tag, attributes);
  text_ += ">\n";
}

void Writer::close(std::string_view tag) {
  text_.append("</").append(tag).append(">\n");
}

void Writer::element(std::string_view tag, Attributes attributes, std::string_view tooltip) {
  begin(tag, attributes);
  if (tooltip.empty() || tooltips_ == Tooltips::none) {
    text_ += "/>\n";
  } else {
    text_.append("><title>").append(escaped(tooltip)).append("</title></").append(tag).append(">\n");
  }
}

void Writer::text(Point2 at, std::string_view words, Attributes attributes) {
  begin("text", {{"x", px(at.x)}, {"y", px(at.y)}});
  for (const auto& [name, value] : attributes) attribute(name, value);
  text_.append(">").append(escaped(words)).append("</text>\n");
}

}  // namespace linkmargin::svg
