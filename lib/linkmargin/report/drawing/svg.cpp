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

double text_width_em(std::string_view text) {
  double width = 0;
  for (std::size_t position = 0; position < text.size();) {
    const CodePoint next = decode_utf8(text, position);
    position += next.bytes;
    const char32_t c = next.value;
    const auto one_of = [c](std::u32string_view letters) { return letters.find(c) != letters.npos; };
    if (one_of(U"iljI.,:;'!|() ")) {
      width += 0.36;
    } else if (one_of(U"frt-/")) {
      width += 0.42;
    } else if (one_of(U"mwMW%@")) {
      width += 0.98;
    } else if (c >= 'A' && c <= 'Z') {
      width += 0.73;
    } else if (c < 0x80) {
      width += 0.63;
    } else {
      width += display_width(c) == 0 ? 0 : display_width(c) == 1 ? 0.75 : 1.05;
    }
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
