#include "linkmargin/report/drawing/sheet_painter.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/base/range.hpp"
#include "linkmargin/report/drawing/raster.hpp"
#include "linkmargin/report/drawing/stroke_font.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

namespace linkmargin {
namespace {

using svg::Element;

constexpr double kDotWidths = 1.5;  ///< a dot is wider than a stroke, or it is lost in small sizes

double number_of(const Element& element, std::string_view name, double absent = 0) {
  return parse_number(element.attribute(name)).value_or(absent);
}

/// The numbers of a list, whatever separates them.
std::vector<double> numbers_in(std::string_view text) {
  std::vector<double> numbers;
  while (!text.empty()) {
    const std::size_t from = text.find_first_of("-.0123456789");
    if (from == std::string_view::npos) break;
    const std::size_t to = std::min(text.find_first_not_of("-.0123456789e", from), text.size());
    if (const auto value = parse_number(text.substr(from, to - from))) numbers.push_back(*value);
    text.remove_prefix(to);
  }
  return numbers;
}

unsigned hex_digit(char digit) {
  return static_cast<unsigned>(digit >= 'a' ? digit - 'a' + 10 : digit - '0');
}

Rgb colour_of(std::string_view text) {
  const bool good = text.size() == 7 && text.front() == '#' &&
                    text.find_first_not_of("0123456789abcdef", 1) == std::string_view::npos;
  if (!good) throw DomainError("a colour that is not painted: " + std::string(text));
  const auto channel = [&](std::size_t at) {
    return static_cast<std::uint8_t>(16 * hex_digit(text[at]) + hex_digit(text[at + 1]));
  };
  return {channel(1), channel(3), channel(5)};
}

class Painter {
 public:
  Painter(const svg::Writer& sheet, double scale)
      : sheet_(sheet), scale_(scale), raster_(size("width"), size("height"), {255, 255, 255}) {}

  Picture paint() {
    for (const Element& element : sheet_.elements()) {
      if (element.kind == Element::Kind::open && element.tag == "pattern") begin_pattern(element);
      if (element.kind == Element::Kind::close && element.tag == "pattern") pattern_ = nullptr;
      if (element.kind == Element::Kind::text) {
        text(element);
      } else if (element.kind == Element::Kind::shape) {
        pattern_ != nullptr ? pattern_part(element) : shape(element);
      }
    }
    return raster_.picture();
  }

 private:
  std::size_t size(std::string_view name) const {
    return static_cast<std::size_t>(std::ceil(scale_ * number_of(sheet_.elements().front(), name)));
  }

  /// A pattern of a paper and one line, turned.
  void begin_pattern(const Element& element) {
    pattern_ = &patterns_[std::string(element.attribute("id"))];
    pattern_->hatch.emplace();
    pattern_->hatch->spacing_px = scale_ * number_of(element, "width");
    for (const double angle : numbers_in(element.attribute("patternTransform"))) {
      pattern_->hatch->angle_deg = angle;
    }
  }

  void pattern_part(const Element& element) {
    if (element.tag == "rect") pattern_->hatch->paper = colour_of(element.attribute("fill"));
    if (element.tag != "line") return;
    pattern_->colour = colour_of(element.attribute("stroke"));
    pattern_->opacity = number_of(element, "stroke-opacity", 1);
    // An SVG line on the edge of its tile is cut in half there.
    pattern_->hatch->line_px = scale_ * number_of(element, "stroke-width", 1) / 2;
  }

  std::optional<Ink> ink(const Element& element, std::string_view what) const {
    const std::string_view colour = element.attribute(what);
    if (colour.empty() || colour == "none") return {};
    Ink ink;
    if (colour.starts_with("url(#")) {
      const auto known = patterns_.find(std::string(colour.substr(5, colour.size() - 6)));
      if (known == patterns_.end()) throw DomainError("a pattern that is not there: " + std::string(colour));
      ink = known->second;
    } else {
      ink.colour = colour_of(colour);
    }
    ink.opacity *= number_of(element, std::string(what) + "-opacity", 1);
    return ink;
  }

  void shape(const Element& element) {
    const double x = scale_ * number_of(element, "x");
    const double y = scale_ * number_of(element, "y");
    const double width = scale_ * number_of(element, "width");
    const double height = scale_ * number_of(element, "height");
    if (element.tag == "image") return raster_.place(*element.picture, {{x, y}, {x + width, y + height}});
    if (element.tag == "rect") {
      return outline(element, {{{x, y}, {x + width, y}, {x + width, y + height}, {x, y + height}}}, true);
    }
    if (element.tag == "line") {
      return outline(element,
                     {{scale_ * Point2{number_of(element, "x1"), number_of(element, "y1")},
                       scale_ * Point2{number_of(element, "x2"), number_of(element, "y2")}}},
                     false);
    }
    if (element.tag == "circle") return outline(element, {circle(element)}, true);
    if (element.tag == "polygon" || element.tag == "polyline") {
      return outline(element, {points(element.attribute("points"))}, element.tag == "polygon");
    }
    if (element.tag == "path") return path(element);
    throw DomainError("an element that is not painted: " + element.tag);
  }

  std::vector<Point2> points(std::string_view list) const {
    const std::vector<double> numbers = numbers_in(list);
    std::vector<Point2> result;
    for (std::size_t i = 0; i + 1 < numbers.size(); i += 2) {
      result.push_back(scale_ * Point2{numbers[i], numbers[i + 1]});
    }
    return result;
  }

  Polygon2 circle(const Element& element) const {
    const Point2 middle{number_of(element, "cx"), number_of(element, "cy")};
    const double radius = number_of(element, "r");
    constexpr int corners = 64;
    Polygon2 polygon;
    for (int i = 0; i < corners; ++i) {
      const double turn = 2 * std::numbers::pi * i / corners;
      polygon.push_back(scale_ * (middle + radius * Point2{std::cos(turn), std::sin(turn)}));
    }
    return polygon;
  }

  /// Straight lines, each "M x,y x,y ..." open or with a final "Z" closed.
  void path(const Element& element) {
    std::string_view commands = element.attribute("d");
    std::vector<Polygon2> closed;
    while (!commands.empty()) {
      const std::size_t next = std::min(commands.find('M', 1), commands.size());
      const std::string_view one = commands.substr(0, next);
      const bool ends_closed = one.find('Z') != std::string_view::npos;
      if (ends_closed) closed.push_back(points(one));
      if (const auto line = ink(element, "stroke")) {
        stroke(element, points(one), ends_closed, *line);
      }
      commands.remove_prefix(next);
    }
    if (const auto paint = ink(element, "fill")) raster_.fill(closed, *paint);
  }

  void outline(const Element& element, const std::vector<Polygon2>& outlines, bool closed) {
    if (const auto paint = ink(element, "fill"); paint && closed) raster_.fill(outlines, *paint);
    if (const auto line = ink(element, "stroke")) {
      for (const Polygon2& one : outlines) stroke(element, one, closed, *line);
    }
  }

  void stroke(const Element& element, const std::vector<Point2>& line, bool closed, const Ink& ink) {
    const double width = scale_ * number_of(element, "stroke-width", 1);
    std::vector<double> dashes = numbers_in(element.attribute("stroke-dasharray"));
    for (double& dash : dashes) dash *= scale_;
    if (dashes.empty()) {
      raster_.stroke(line, closed, width, ink);
    } else {
      raster_.stroke_dashed(line, closed, width, dashes, ink);
    }
  }

  void text(const Element& element) {
    const double font = scale_ * number_of(element, "font-size", 11);
    const std::string_view align = element.attribute("text-anchor");
    const double share = align == "end" ? 1 : align == "middle" ? 0.5 : 0;
    const Point2 start = scale_ * Point2{number_of(element, "x"), number_of(element, "y")} -
                         Point2{share * font * stroked_width_em(element.words), 0};
    const auto fill = ink(element, "fill");
    const double width = font * (element.attribute("font-weight") == "bold" ? 0.135 : 0.088);
    for (const std::vector<Point2>& line : text_strokes_em(element.words)) {
      std::vector<Point2> placed;
      for (const Point2 p : line) placed.push_back(start + font * p);
      const bool dot = line.size() == 2 && line.front() == line.back();
      raster_.stroke(placed, false, (dot ? kDotWidths : 1) * width, fill.value_or(Ink{}), true);
    }
  }

  const svg::Writer& sheet_;
  double scale_;
  Raster raster_;
  std::map<std::string, Ink, std::less<>> patterns_;
  Ink* pattern_ = nullptr;
};

}  // namespace

Picture painted(const svg::Writer& sheet, double scale) {
  return Painter(sheet, scale).paint();
}

double picture_scale(const svg::Writer& sheet) {
  constexpr double usual = 2;
  const Element& root = sheet.elements().front();
  const double pixels = number_of(root, "width", 1) * number_of(root, "height", 1);
  return std::min(usual, std::sqrt(kMostSheetPixels / pixels));
}

}  // namespace linkmargin
