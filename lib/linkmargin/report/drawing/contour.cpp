#include "linkmargin/report/drawing/contour.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/geometry/segment.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <unordered_map>

namespace linkmargin {
namespace {

/// The edge of the grid from a point to its right or upper neighbour: where lines go through.
using EdgeKey = std::uint64_t;

struct Piece {
  EdgeKey from = 0;
  EdgeKey to = 0;
};

class Tracer {
 public:
  /// @param rim how many points of "not below" are put round the grid
  Tracer(const Field& field, int rim) : field_(field), rim_(rim) {}

  std::vector<ContourLine> trace() {
    march();
    return joined();
  }

 private:
  int columns() const { return field_.columns + 2 * rim_; }
  int rows() const { return field_.rows + 2 * rim_; }
  bool on_rim(int column, int row) const {
    return column < rim_ || row < rim_ || column >= field_.columns + rim_ || row >= field_.rows + rim_;
  }
  double value(int column, int row) const {
    if (on_rim(column, row)) return 1;
    const double v = field_.at(column - rim_, row - rim_);
    return std::isnan(v) ? -1 : v;
  }

  EdgeKey key(int column, int row, bool upwards) const {
    const auto point =
        static_cast<EdgeKey>(row) * static_cast<EdgeKey>(columns()) + static_cast<EdgeKey>(column);
    return 2 * point + (upwards ? 1 : 0);
  }

  void march() {
    std::vector<double> below(static_cast<std::size_t>(columns()));
    std::vector<double> above(static_cast<std::size_t>(columns()));
    const auto read = [&](std::vector<double>& values, int row) {
      for (int c = 0; c < columns(); ++c) values[static_cast<std::size_t>(c)] = value(c, row);
    };
    read(above, 0);
    for (int row = 0; row + 1 < rows(); ++row) {
      below.swap(above);
      read(above, row + 1);
      for (int c = 0; c + 1 < columns(); ++c) {
        const auto i = static_cast<std::size_t>(c);
        square(c, row, {below[i], below[i + 1], above[i + 1], above[i]});
      }
    }
  }

  /// @param v counter-clockwise from the lower left
  void square(int column, int row, const std::array<double, 4>& v) {
    unsigned low = 0;
    for (unsigned i = 0; i < 4; ++i) low |= (v[i] < 0 ? 1U : 0U) << i;
    if (low == 0 || low == 15) return;
    const std::array<EdgeKey, 4> edge{key(column, row, false), key(column + 1, row, true),
                                      key(column, row + 1, false), key(column, row, true)};
    // Edge i runs from corner i to corner i + 1. Below zero on the left: in where the corner after is low,
    // out where the corner before is.
    const bool saddle = low == 5 || low == 10;
    const bool joined_low = saddle && v[0] + v[1] + v[2] + v[3] < 0;
    for (unsigned i = 0; i < 4; ++i) {
      const bool enters = (low >> i & 1U) != 0 && (low >> ((i + 1) % 4) & 1U) == 0;
      if (!enters) continue;
      unsigned out = (i + 1) % 4;
      if (!joined_low) {  // turns round the low corner(s) before it
        out = (i + 3) % 4;
        while (!leaves(low, out)) out = (out + 3) % 4;
      } else {
        while (!leaves(low, out)) out = (out + 1) % 4;
      }
      pieces_.push_back({edge[i], edge[out]});
    }
  }

  static bool leaves(unsigned low, unsigned i) {
    return (low >> i & 1U) == 0 && (low >> ((i + 1) % 4) & 1U) != 0;
  }

  Point2 place(EdgeKey edge) const {
    const auto across = static_cast<EdgeKey>(columns());
    const bool upwards = (edge & 1U) != 0;
    const int column = static_cast<int>(edge / 2 % across);
    const int row = static_cast<int>(edge / 2 / across);
    const int other_column = column + (upwards ? 0 : 1);
    const int other_row = row + (upwards ? 1 : 0);
    double t = 0.5;  // against the rim: halfway, on the edge of the outermost cells
    if (!on_rim(column, row) && !on_rim(other_column, other_row)) {
      const double from = value(column, row);
      const double to = value(other_column, other_row);
      t = std::isfinite(from) && std::isfinite(to) ? from / (from - to) : 0.5;
    }
    return {column - rim_ + (upwards ? 0 : t), row - rim_ + (upwards ? t : 0)};
  }

  std::vector<ContourLine> joined() const {
    std::unordered_map<EdgeKey, std::size_t> starts;
    std::unordered_map<EdgeKey, std::size_t> ends;
    starts.reserve(pieces_.size());
    ends.reserve(pieces_.size());
    for (std::size_t i = 0; i < pieces_.size(); ++i) {
      starts.emplace(pieces_[i].from, i);
      ends.emplace(pieces_[i].to, i);
    }
    std::vector<char> used(pieces_.size(), 0);
    std::vector<ContourLine> lines;
    const auto follow = [&](std::size_t first) {
      ContourLine line;
      line.points.push_back(place(pieces_[first].from));
      for (std::size_t at = first;;) {
        used[at] = 1;
        const auto next = starts.find(pieces_[at].to);
        if (next != starts.end() && next->second == first) {
          line.closed = true;
          break;
        }
        line.points.push_back(place(pieces_[at].to));
        if (next == starts.end()) break;
        at = next->second;
      }
      lines.push_back(std::move(line));
    };
    for (std::size_t i = 0; i < pieces_.size(); ++i) {
      if (!ends.contains(pieces_[i].from)) follow(i);  // comes in over the edge of the grid
    }
    for (std::size_t i = 0; i < pieces_.size(); ++i) {
      if (used[i] == 0) follow(i);
    }
    return lines;
  }

  const Field& field_;
  int rim_;
  std::vector<Piece> pieces_;
};

/// A ring that turns from one edge of the grid into the next does so in the grid's corner, where it cut it
/// off.
std::vector<Point2> with_corners(const std::vector<Point2>& ring, const Field& field) {
  const auto upright = [&](Point2 p) { return p.x == -0.5 || p.x == field.columns - 0.5; };
  const auto level = [&](Point2 p) { return p.y == -0.5 || p.y == field.rows - 0.5; };
  std::vector<Point2> whole;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Point2 p = ring[i];
    const Point2 next = ring[(i + 1) % ring.size()];
    whole.push_back(p);
    if (upright(p) && level(next)) whole.push_back({p.x, next.y});
    if (level(p) && upright(next)) whole.push_back({next.x, p.y});
  }
  return whole;
}

void keep_far_points(const std::vector<Point2>& points, std::size_t first, std::size_t last, double tolerance,
                     std::vector<char>& kept) {
  std::vector<std::pair<std::size_t, std::size_t>> spans{{first, last}};
  while (!spans.empty()) {
    const auto [from, to] = spans.back();
    spans.pop_back();
    const Point2 start = points[from];
    const Point2 along = points[to % points.size()] - start;
    const double square = dot(along, along);
    double farthest = tolerance;
    std::size_t split = 0;
    for (std::size_t i = from + 1; i < to; ++i) {
      const double t = square == 0 ? 0 : std::clamp(dot(points[i] - start, along) / square, 0.0, 1.0);
      const double far = distance(points[i], start + t * along);
      if (far > farthest) {
        farthest = far;
        split = i;
      }
    }
    if (split == 0) continue;
    kept[split] = 1;
    spans.emplace_back(from, split);
    spans.emplace_back(split, to);
  }
}

}  // namespace

std::vector<ContourLine> zero_lines(const Field& field) {
  return Tracer(field, 0).trace();
}

std::vector<std::vector<Point2>> zones_below_zero(const Field& field) {
  std::vector<std::vector<Point2>> rings;
  for (const ContourLine& line : Tracer(field, 1).trace()) rings.push_back(with_corners(line.points, field));
  return rings;
}

ContourLine simplified(const ContourLine& line, double tolerance) {
  const std::vector<Point2>& points = line.points;
  if (points.size() < 3) return line;
  std::vector<char> kept(points.size(), 0);
  kept.front() = 1;
  if (line.closed) {
    const auto far =
        std::ranges::max_element(points, {}, [&](Point2 p) { return distance(p, points.front()); });
    const auto middle = static_cast<std::size_t>(far - points.begin());
    kept[middle] = 1;
    keep_far_points(points, 0, middle, tolerance, kept);
    keep_far_points(points, middle, points.size(), tolerance, kept);
  } else {
    kept.back() = 1;
    keep_far_points(points, 0, points.size() - 1, tolerance, kept);
  }
  ContourLine result{{}, line.closed};
  for (std::size_t i = 0; i < points.size(); ++i) {
    if (kept[i] != 0) result.points.push_back(points[i]);
  }
  return result;
}

std::string smooth_path(const ContourLine& line, double reach) {
  const double blunt = std::cos(std::numbers::pi * kSharpDeg / 180);
  const std::size_t count = line.points.size();
  std::string text;
  const auto add = [&](const char* letter, Point2 at) {
    text.append(letter).append(fixed_text(at.x, 1)).append(1, ',').append(fixed_text(at.y, 1));
  };
  for (std::size_t i = 0; i < count; ++i) {
    const Point2 at = line.points[i];
    const char* letter = text.empty() ? "M" : " L";
    if (!line.closed && (i == 0 || i + 1 == count)) {
      add(letter, at);
      continue;
    }
    const Point2 before = line.points[(i + count - 1) % count] - at,
                 after = line.points[(i + 1) % count] - at;
    const double in = std::hypot(before.x, before.y), out = std::hypot(after.x, after.y);
    const double turn = -(before.x * after.x + before.y * after.y) / std::max(in * out, 1e-12);
    if (turn < blunt || in == 0 || out == 0) {
      add(letter, at);
      continue;
    }
    add(letter, at + std::min(0.5, reach / in) * before);
    add(" Q", at);
    add(" ", at + std::min(0.5, reach / out) * after);
  }
  return line.closed ? text + "Z" : text;
}

}  // namespace linkmargin
