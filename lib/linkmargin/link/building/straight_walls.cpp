#include "linkmargin/link/building/straight_walls.hpp"

#include "linkmargin/link/building/wall_ends.hpp"

#include <algorithm>
#include <map>
#include <optional>

namespace linkmargin {
namespace {

constexpr double kInLineCos = 0.999999;  ///< 1 mm off at 0.7 m

class StraightWalls {
 public:
  StraightWalls(const std::vector<WallPiece>& plan, std::span<const std::uint32_t> roof)
      : plan_(plan), roof_(roof) {
    for (std::size_t piece = 0; piece < plan.size(); ++piece) {
      if (!stands(plan[piece])) continue;
      for (const bool at_b : {false, true}) {
        const WallTip tip(plan, piece, at_b);
        tips_[tip.at].push_back(tip);
      }
    }
  }

  std::vector<std::vector<StraightPart>> find() const {
    std::vector<std::vector<StraightPart>> walls;
    std::vector<bool> taken(plan_.size(), false);
    for (std::size_t piece = 0; piece < plan_.size(); ++piece) {
      if (taken[piece]) continue;
      std::vector<StraightPart> wall{{piece, false}};
      taken[piece] = true;
      for (const bool ahead : {true, false}) {
        auto next = beyond(piece, ahead);
        while (next && !taken[next->piece]) {
          taken[next->piece] = true;
          const StraightPart part{next->piece, next->at_b == ahead};
          wall.insert(ahead ? wall.end() : wall.begin(), part);
          next = beyond(next->piece, !next->at_b);
        }
      }
      walls.push_back(std::move(wall));
    }
    return walls;
  }

 private:
  /// The end at which the same wall goes on beyond an end of a piece.
  std::optional<WallTip> beyond(std::size_t piece, bool at_b) const {
    if (!stands(plan_[piece])) return {};
    const WallTip tip(plan_, piece, at_b);
    const std::vector<WallTip>& met = tips_.at(tip.at);
    if (met.size() != 2) return {};
    const WallTip& other = met[met[0].piece == piece && met[0].at_b == at_b ? 1 : 0];
    const WallPiece &one = plan_[piece], &next = plan_[other.piece];
    if (dot(tip.onward, other.onward) > -kInLineCos || roof_[piece] != roof_[other.piece]) return {};
    if (*one.construction != *next.construction || one.height_m != next.height_m) return {};
    for (std::size_t third = 0; third < plan_.size(); ++third) {
      if (third == piece || third == other.piece || !stands(plan_[third])) continue;
      if (distance_to_segment(tip.at, plan_[third].line) < kJointM) return {};
    }
    return other;
  }

  const std::vector<WallPiece>& plan_;
  std::span<const std::uint32_t> roof_;
  std::map<Point2, std::vector<WallTip>> tips_;
};

}  // namespace

std::vector<std::vector<StraightPart>> straight_walls(const std::vector<WallPiece>& plan,
                                                      std::span<const std::uint32_t> roof) {
  return StraightWalls(plan, roof).find();
}

}  // namespace linkmargin
