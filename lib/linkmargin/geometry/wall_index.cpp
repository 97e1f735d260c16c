#include "linkmargin/geometry/wall_index.hpp"

#include "linkmargin/base/simd_dispatch.hpp"

#include <algorithm>
#include <limits>
#include <numeric>

namespace linkmargin {
namespace {

constexpr std::size_t kFewBlocks = 16;  // no boxes over so few
constexpr std::size_t kRun = 64;        // blocks of one level handled before the next level is
constexpr std::size_t kFewFound = 64;

Box2 box_of(std::span<const Segment2> walls) {
  Box2 box = Box2::nothing();
  for (const Segment2 wall : walls) {
    box.take(wall.a);
    box.take(wall.b);
  }
  return box;
}

bool in_reach(Segment2 ray) {
  return kCoordinateM.contains(ray.a.x) && kCoordinateM.contains(ray.a.y) && kCoordinateM.contains(ray.b.x) &&
         kCoordinateM.contains(ray.b.y);
}

/// crosses() of two segments whose ends are ordered, without branches.
bool ordered_cross(Segment2 ray, Segment2 wall) {
  const bool c = side(ray.a, ray.b, wall.a) >= 0;
  const bool d = side(ray.a, ray.b, wall.b) >= 0;
  const bool a = side(wall.a, wall.b, ray.a) >= 0;
  const bool b = side(wall.a, wall.b, ray.b) >= 0;
  return static_cast<int>(c != d) + static_cast<int>(a != b) == 2;
}

struct Placed {
  Point2 middle;
  std::uint32_t position;
};

/// Halves the walls across the longer side of their middles' box, and so on down to blocks. The first part of
/// each is a number of the largest blocks of blocks that do not hold all, so that those of every level follow
/// each other.
void gather(std::span<Placed> part) {
  if (part.size() <= kBlockSize) return;
  Box2 box = Box2::nothing();
  for (const Placed& wall : part) box.take(wall.middle);
  std::size_t unit = kBlockSize;
  while (unit * kBlockSize < part.size()) unit *= kBlockSize;
  const std::size_t left = (part.size() + unit - 1) / unit / 2 * unit;
  const auto cut = part.begin() + static_cast<std::ptrdiff_t>(left);
  if (box.max.y - box.min.y > box.max.x - box.min.x) {
    std::ranges::nth_element(part, cut, {}, [](const Placed& wall) { return wall.middle.y; });
  } else {
    std::ranges::nth_element(part, cut, {}, [](const Placed& wall) { return wall.middle.x; });
  }
  gather(part.first(left));
  gather(part.subspan(left));
}

/// Each of few positions goes to the place that the number of smaller ones gives: no branch to guess wrong.
LINKMARGIN_LOOP void sort_body(std::span<std::uint32_t> positions) {
  std::array<std::uint32_t, kFewFound + kBlockSize> copy;
  std::ranges::copy(positions, copy.begin());
  const std::size_t padded = (positions.size() + kBlockSize - 1) / kBlockSize * kBlockSize;
  for (std::size_t k = positions.size(); k < padded; ++k) copy[k] = std::numeric_limits<std::uint32_t>::max();
  for (std::size_t i = 0; i < positions.size(); ++i) {
    const std::uint32_t own = copy[i];
    std::array<std::uint32_t, kBlockSize> smaller{};
    for (std::size_t k = 0; k < padded; k += kBlockSize) {
      for (std::size_t lane = 0; lane < kBlockSize; ++lane) smaller[lane] += copy[k + lane] < own ? 1U : 0U;
    }
    positions[std::accumulate(smaller.begin(), smaller.end(), 0U)] = own;
  }
}
LINKMARGIN_WIDE void sort_wide(std::span<std::uint32_t> positions) {
  sort_body(positions);
}
void sort_any(std::span<std::uint32_t> positions) {
  sort_body(positions);
}

}  // namespace

WallIndex::WallIndex(std::span<const Segment2> walls) : positions_(walls.size()) {
  if (walls.empty()) return;
  for (const Segment2 wall : walls) {
    for (const Point2 p : {wall.a, wall.b}) {
      require_in(kCoordinateM, p.x);
      require_in(kCoordinateM, p.y);
    }
  }
  const Box2 box = box_of(walls);
  origin_ = 0.5 * (box.min + box.max);
  std::iota(positions_.begin(), positions_.end(), 0U);
  if (walls.size() > kFewBlocks * kBlockSize) {
    std::vector<Placed> placed;
    placed.reserve(walls.size());
    for (const std::uint32_t i : positions_) placed.push_back({walls[i].a + walls[i].b, i});
    gather(placed);
    std::ranges::transform(placed, positions_.begin(), &Placed::position);
  }
  lines_.reserve(walls.size());
  for (const std::uint32_t i : positions_) lines_.push_back(ordered(walls[i]));
  blocks_.resize((walls.size() + kBlockSize - 1) / kBlockSize);
  for (std::size_t i = 0; i < lines_.size(); ++i)
    blocks_[i / kBlockSize].set(i % kBlockSize, lines_[i], origin_);
  fill_boxes();
}

void WallIndex::fill_boxes() {
  std::vector<Box2> boxes;
  for (std::size_t i = 0; i < lines_.size(); i += kBlockSize) {
    boxes.push_back(box_of(std::span(lines_).subspan(i, std::min(kBlockSize, lines_.size() - i))));
  }
  while (boxes.size() > kFewBlocks) {
    std::vector<BoxBlock8>& level = levels_.emplace_back((boxes.size() + kBlockSize - 1) / kBlockSize);
    std::vector<Box2> over(level.size(), Box2::nothing());
    for (std::size_t i = 0; i < boxes.size(); ++i) {
      level[i / kBlockSize].set(i % kBlockSize, boxes[i], origin_);
      over[i / kBlockSize].take(boxes[i]);
    }
    boxes = std::move(over);
  }
}

/// Calls visit with the walls in the index's order, some at a time, that the sieve leaves.
template <typename Visit>
void WallIndex::visit_left(Segment2 ray, Visit visit) const {
  static constexpr auto kFirst = [] {
    std::array<std::uint32_t, kFewBlocks> first{};
    std::iota(first.begin(), first.end(), 0U);
    return first;
  }();
  const std::size_t blocks = levels_.empty() ? blocks_.size() : levels_.back().size();
  descend(levels_.size(), std::span(kFirst).first(blocks), BlockProbe(ray, origin_), visit);
}

/// Of the given blocks of a level: 0 the walls, 1 their boxes, and so on.
template <typename Visit>
void WallIndex::descend(std::size_t level, std::span<const std::uint32_t> blocks, const BlockProbe& ray,
                        Visit& visit) const {
  std::array<std::uint32_t, (kRun + 1) * kBlockSize> left;
  for (; !blocks.empty(); blocks = blocks.subspan(std::min(kRun, blocks.size()))) {
    const auto run = blocks.first(std::min(kRun, blocks.size()));
    if (level == 0) {
      visit(std::span<const std::uint32_t>(left.data(), sieve(blocks_, run, ray, left.data())));
    } else {
      const std::size_t count = sieve(levels_[level - 1], run, ray, left.data());
      descend(level - 1, {left.data(), count}, ray, visit);
    }
  }
}

void WallIndex::sort(std::vector<std::uint32_t>& positions) const {
  if (positions.size() < 2 || levels_.empty()) return;  // without boxes the order is the constructor's
  if (positions.size() > kFewFound) {
    std::ranges::sort(positions);
  } else {
    has_wide() ? sort_wide(positions) : sort_any(positions);
  }
}

std::vector<std::uint32_t> WallIndex::crossings(Segment2 ray) const {
  std::vector<std::uint32_t> found;
  crossings(ray, found);
  return found;
}

void WallIndex::crossings(Segment2 ray, std::vector<std::uint32_t>& found) const {
  const Segment2 line = ordered(ray);
  found.clear();
  if (in_reach(ray)) {
    found.reserve(kFewFound);  // one allocation for nearly every link
    visit_left(line, [&](std::span<const std::uint32_t> left) {
      for (const std::uint32_t i : left) {
        if (ordered_cross(line, lines_[i])) found.push_back(positions_[i]);
      }
    });
  } else {
    for (std::size_t i = 0; i < lines_.size(); ++i) {
      if (crosses(line, lines_[i])) found.push_back(positions_[i]);
    }
  }
  sort(found);
}

std::vector<std::uint32_t> WallIndex::candidates(Segment2 ray) const {
  std::vector<std::uint32_t> found;
  if (in_reach(ray)) {
    visit_left(ordered(ray), [&](std::span<const std::uint32_t> left) {
      for (const std::uint32_t i : left) found.push_back(positions_[i]);
    });
  } else {
    found = positions_;
  }
  sort(found);
  return found;
}

std::vector<std::uint32_t> scan_crossings(std::span<const Segment2> walls, Segment2 ray) {
  std::vector<std::uint32_t> found;
  for (std::uint32_t position = 0; position < walls.size(); ++position) {
    if (crosses(ray, walls[position])) found.push_back(position);
  }
  return found;
}

}  // namespace linkmargin
