#include "linkmargin/link/building/box_index.hpp"

#include <array>
#include <cstddef>
#include <numeric>

namespace linkmargin {
namespace {

bool is_in_reach(Point2 p) {
  return kCoordinateM.contains(p.x) && kCoordinateM.contains(p.y);
}

}  // namespace

BoxIndex::BoxIndex(std::span<const Box2> boxes)
    : boxes_((boxes.size() + kBlockSize - 1) / kBlockSize),
      runs_((boxes_.size() + kBlockSize - 1) / kBlockSize),
      count_(static_cast<std::uint32_t>(boxes.size())) {
  for (std::size_t block = 0; block < boxes_.size(); ++block) {
    Box2 box = Box2::nothing();
    const std::size_t first = block * kBlockSize;
    for (std::size_t k = 0; k < kBlockSize && first + k < boxes.size(); ++k) {
      const Box2& own = boxes[first + k];
      boxes_[block].set(k, own, {});
      box.take(own.min);
      box.take(own.max);
    }
    runs_[block / kBlockSize].set(block % kBlockSize, box, {});
  }
}

void BoxIndex::near(Segment2 ray, std::vector<std::uint32_t>& found) const {
  found.clear();
  if (count_ == 0) return;
  if (!is_in_reach(ray.a) || !is_in_reach(ray.b)) {
    found.resize(count_);
    std::iota(found.begin(), found.end(), 0U);
    return;
  }
  const BlockProbe probe(ray, {});
  std::array<std::uint32_t, kBlockSize * 2> blocks;
  std::array<std::uint32_t, kBlockSize*(kBlockSize + 1)> left;
  for (std::uint32_t run = 0; run < runs_.size(); ++run) {
    const std::size_t met = sieve(runs_, std::span(&run, 1), probe, blocks.data());
    const std::size_t count = sieve(boxes_, std::span(blocks).first(met), probe, left.data());
    found.insert(found.end(), left.begin(), left.begin() + static_cast<std::ptrdiff_t>(count));
  }
}

}  // namespace linkmargin
