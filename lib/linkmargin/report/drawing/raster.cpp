#include "linkmargin/report/drawing/raster.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace linkmargin {
namespace {

std::uint8_t mixed(std::uint8_t under, std::uint8_t over, double share) {
  return static_cast<std::uint8_t>(std::lround(under + (over - under) * share));
}

Rgb mixed(Rgb under, Rgb over, double share) {
  return {mixed(under.red, over.red, share), mixed(under.green, over.green, share),
          mixed(under.blue, over.blue, share)};
}

/// How much of each pixel lies inside outlines: every edge adds the area to its right, with the sign of its
/// direction; a sum along the row makes areas of it.
class Coverage {
 public:
  Coverage(std::size_t left, std::size_t top, std::size_t width, std::size_t height)
      : left_(static_cast<double>(left)),
        top_(static_cast<double>(top)),
        width_(width),
        height_(height),
        cells_((width + 2) * height) {}

  void add(Point2 a, Point2 b) {
    if (a.y == b.y) return;
    const double sign = a.y < b.y ? 1 : -1;
    if (a.y > b.y) std::swap(a, b);
    const double slope = (b.x - a.x) / (b.y - a.y);
    const double first = std::max(a.y - top_, 0.0);
    const double last = std::min(b.y - top_, static_cast<double>(height_));
    for (double y = first; y < last;) {
      const double row = std::floor(y);
      const double below = std::min(row + 1, last);
      const double x0 = a.x + (y + top_ - a.y) * slope - left_;
      const double x1 = a.x + (below + top_ - a.y) * slope - left_;
      add_row(static_cast<std::size_t>(row), std::min(x0, x1), std::max(x0, x1), sign * (below - y));
      y = below;
    }
  }

  double sum(std::size_t row, std::size_t column, double so_far) const {
    return so_far + cells_[row * (width_ + 2) + column];
  }

 private:
  /// An edge that crosses a row between x0 and x1 (x0 <= x1) by `height`.
  void add_row(std::size_t row, double x0, double x1, double height) {
    const double most = static_cast<double>(width_);
    double* cells = &cells_[row * (width_ + 2)];
    x0 = std::clamp(x0, 0.0, most);
    x1 = std::clamp(x1, 0.0, most);
    const auto from = static_cast<std::size_t>(x0);
    const auto to = static_cast<std::size_t>(x1);
    if (from == to) {
      const double right = static_cast<double>(from) + 1 - (x0 + x1) / 2;
      cells[from] += height * right;
      cells[from + 1] += height * (1 - right);
      return;
    }
    for (std::size_t c = from; c <= to; ++c) {
      const double enters = std::max(x0, static_cast<double>(c));
      const double leaves = std::min(x1, static_cast<double>(c) + 1);
      const double part = height * (leaves - enters) / (x1 - x0);
      const double right = static_cast<double>(c) + 1 - (enters + leaves) / 2;
      cells[c] += part * right;
      cells[c + 1] += part * (1 - right);
    }
  }

  double left_;
  double top_;
  std::size_t width_;
  std::size_t height_;
  std::vector<double> cells_;
};

Polygon2 rightly_turned(Polygon2 polygon) {
  if (signed_area(polygon) < 0) std::ranges::reverse(polygon);
  return polygon;
}

void add_segment(std::vector<Polygon2>& parts, Point2 a, Point2 b, double width_px) {
  const double reach = distance(a, b);
  if (reach <= 0) return;
  const Point2 side = (width_px / 2 / reach) * Point2{-(b - a).y, (b - a).x};
  parts.push_back(rightly_turned({a - side, b - side, b + side, a + side}));
}

void add_disc(std::vector<Polygon2>& parts, Point2 middle, double width_px) {
  constexpr int corners = 12;
  Polygon2 disc;
  for (int i = 0; i < corners; ++i) {
    const double turn = 2 * std::numbers::pi * i / corners;
    disc.push_back(middle + (width_px / 2) * Point2{std::cos(turn), std::sin(turn)});
  }
  parts.push_back(rightly_turned(std::move(disc)));
}

}  // namespace

Raster::Raster(std::size_t width, std::size_t height, Rgb paper)
    : picture_{width, height, std::vector<Rgb>(width * height, paper)} {}

void Raster::blend(std::size_t x, std::size_t y, double coverage, const Ink& ink) {
  Rgb& pixel = picture_.pixels[y * picture_.width + x];
  const double share = std::min(1.0, coverage) * ink.opacity;
  if (!ink.hatch) {
    pixel = mixed(pixel, ink.colour, share);
    return;
  }
  const double angle = ink.hatch->angle_deg * std::numbers::pi / 180;
  const double across =
      (static_cast<double>(x) + 0.5) * std::cos(angle) + (static_cast<double>(y) + 0.5) * std::sin(angle);
  const double spacing = ink.hatch->spacing_px;
  const double from_line = std::abs(across - spacing * std::round(across / spacing));
  const double on_line = std::clamp(ink.hatch->line_px / 2 - from_line + 0.5, 0.0, 1.0);
  if (ink.hatch->paper) {
    pixel = mixed(pixel, mixed(*ink.hatch->paper, ink.colour, on_line), share);
  } else {
    pixel = mixed(pixel, ink.colour, share * on_line);
  }
}

void Raster::fill(const std::vector<Polygon2>& outlines, const Ink& ink) {
  Box2 box = Box2::nothing();
  for (const Polygon2& outline : outlines) box.take(bounding_box(outline));
  const auto pixel = [](double at, std::size_t size) {
    return static_cast<std::size_t>(std::clamp(at, 0.0, static_cast<double>(size)));
  };
  const std::size_t left = pixel(std::floor(box.min.x), picture_.width);
  const std::size_t top = pixel(std::floor(box.min.y), picture_.height);
  const std::size_t right = pixel(std::ceil(box.max.x), picture_.width);
  const std::size_t bottom = pixel(std::ceil(box.max.y), picture_.height);
  if (left >= right || top >= bottom) return;
  Coverage coverage(left, top, right - left, bottom - top);
  for (const Polygon2& outline : outlines) {
    for (std::size_t i = 0; i < outline.size(); ++i)
      coverage.add(outline[i], outline[(i + 1) % outline.size()]);
  }
  constexpr double least = 1e-3;
  for (std::size_t y = top; y < bottom; ++y) {
    double sum = 0;
    for (std::size_t x = left; x < right; ++x) {
      sum = coverage.sum(y - top, x - left, sum);
      if (std::abs(sum) > least) blend(x, y, std::abs(sum), ink);
    }
  }
}

void Raster::stroke(const std::vector<Point2>& line, bool closed, double width_px, const Ink& ink,
                    bool round_ends) {
  std::vector<Polygon2> parts;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const bool last = i + 1 == line.size();
    const bool end = !closed && (i == 0 || last);
    if (!end || round_ends) add_disc(parts, line[i], width_px);
    if (!last) add_segment(parts, line[i], line[i + 1], width_px);
  }
  if (closed && line.size() > 2) add_segment(parts, line.back(), line.front(), width_px);
  fill(parts, ink);
}

void Raster::stroke_dashed(const std::vector<Point2>& line, bool closed, double width_px,
                           const std::vector<double>& dashes_px, const Ink& ink) {
  std::vector<Polygon2> parts;
  std::size_t dash = 0;
  double left = dashes_px.front();
  const std::size_t count = line.size() < 2 ? 0 : closed ? line.size() : line.size() - 1;
  for (std::size_t i = 0; i < count; ++i) {
    const Segment2 whole{line[i], line[(i + 1) % line.size()]};
    const double size = length(whole);
    for (double at = 0; at < size;) {
      const double next = std::min(size, at + left);
      if (dash % 2 == 0) {
        add_segment(parts, at_fraction(whole, at / size), at_fraction(whole, next / size), width_px);
      }
      left -= next - at;
      at = next;
      if (left <= 1e-9) left = dashes_px[++dash % dashes_px.size()];
    }
  }
  fill(parts, ink);
}

void Raster::place(const IndexedPicture& picture, const Box2& place) {
  const Point2 size = place.max - place.min;
  const auto first = [](double at) { return static_cast<std::size_t>(std::max(0.0, std::round(at))); };
  const std::size_t right = std::min(first(place.max.x), picture_.width);
  const std::size_t bottom = std::min(first(place.max.y), picture_.height);
  const auto nearest = [](double share, std::size_t count) {
    const auto at = static_cast<std::size_t>(std::max(0.0, share * static_cast<double>(count)));
    return std::min(at, count - 1);
  };
  for (std::size_t y = first(place.min.y); y < bottom; ++y) {
    const std::size_t row = nearest((static_cast<double>(y) + 0.5 - place.min.y) / size.y, picture.height);
    for (std::size_t x = first(place.min.x); x < right; ++x) {
      const std::size_t column =
          nearest((static_cast<double>(x) + 0.5 - place.min.x) / size.x, picture.width);
      picture_.pixels[y * picture_.width + x] = picture.colours[picture.pixels[row * picture.width + column]];
    }
  }
}

}  // namespace linkmargin
