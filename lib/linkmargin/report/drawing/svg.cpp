#include "linkmargin/report/drawing/svg.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/text/display_text.hpp"
#include "linkmargin/report/drawing/png.hpp"

#include <iterator>

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

std::string_view Element::attribute(std::string_view name) const {
  for (const auto& [own, value] : attributes) {
    if (own == name) return value;
  }
  return {};
}

Element& Writer::add(Element::Kind kind, std::string_view tag, Attributes attributes) {
  Element& element = elements_.emplace_back();
  element.kind = kind;
  element.tag = tag;
  element.attributes.reserve(attributes.size());
  for (const auto& [name, value] : attributes) element.attributes.emplace_back(name, value);
  return element;
}

void Writer::open(std::string_view tag, Attributes attributes) {
  add(Element::Kind::open, tag, attributes);
}

void Writer::close(std::string_view tag) {
  add(Element::Kind::close, tag, {});
}

void Writer::element(std::string_view tag, Attributes attributes, std::string_view tooltip) {
  add(Element::Kind::shape, tag, attributes).words = tooltip;
}

void Writer::text(Point2 at, std::string_view words, Attributes attributes) {
  Element& element = add(Element::Kind::text, "text", {{"x", px(at.x)}, {"y", px(at.y)}});
  for (const auto& [name, value] : attributes) element.attributes.emplace_back(name, value);
  element.words = words;
}

void Writer::image(const Box2& place, std::shared_ptr<const IndexedPicture> picture) {
  add(Element::Kind::shape, "image",
      {{"x", px(place.min.x)},
       {"y", px(place.min.y)},
       {"width", px(place.max.x - place.min.x)},
       {"height", px(place.max.y - place.min.y)},
       {"preserveAspectRatio", "none"}})
      .picture = std::move(picture);
}

void Writer::append(Writer other) {
  elements_.insert(elements_.end(), std::make_move_iterator(other.elements_.begin()),
                   std::make_move_iterator(other.elements_.end()));
}

void Writer::forget_tooltips() {
  for (Element& element : elements_) {
    if (element.kind == Element::Kind::shape) element.words.clear();
  }
}

std::string Writer::take() {
  std::string text;
  for (const Element& element : elements_) {
    if (element.kind == Element::Kind::close) {
      text.append("</").append(element.tag).append(">\n");
      continue;
    }
    text.append("<").append(element.tag);
    for (const auto& [name, value] : element.attributes) {
      text.append(" ").append(name).append("=\"").append(escaped(value)).append("\"");
    }
    if (element.picture) {
      text.append(" xlink:href=\"data:image/png;base64,");
      text.append(base64_text(png_bytes(*element.picture))).append("\"");
    }
    if (element.kind == Element::Kind::open) {
      text += ">\n";
    } else if (element.kind == Element::Kind::text) {
      text.append(">").append(escaped(element.words)).append("</text>\n");
    } else if (element.words.empty()) {
      text += "/>\n";
    } else {
      text.append("><title>").append(escaped(element.words)).append("</title></").append(element.tag);
      text += ">\n";
    }
  }
  elements_.clear();
  return text;
}

}  // namespace linkmargin::svg
