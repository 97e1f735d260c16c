#include "linkmargin/link/building/straight_walls.hpp"

#include "linkmargin/link/building/wall_ends.hpp"

#include <algorithm>
#include <map>
#include <optional>

namespace linkmargin {
namespace {

constexpr double kInLineCos = 0.999999;  ///< 1 mm off at 0.7 m

/// An end of a piece.
struct PieceEnd {
  std::size_t piece;
  bool at_b;
};

class StraightWalls {
 public:
  StraightWalls(const std::vector<WallPiece>& plan, std::span<const std::uint32_t> roof)
      : plan_(plan), roof_(roof) {
    for (std::size_t piece = 0; piece < plan.size(); ++piece) {
      if (!stands(piece)) continue;
      for (const bool at_b : {false, true}) ends_[at({piece, at_b})].push_back({piece, at_b});
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
        PieceEnd end{piece, ahead};
        for (auto next = beyond(end); next && !taken[next->piece]; next = beyond(end)) {
          taken[next->piece] = true;
          const StraightPart part{next->piece, next->at_b == ahead};
          wall.insert(ahead ? wall.end() : wall.begin(), part);
          end = {next->piece, !next->at_b};
        }
      }
      walls.push_back(std::move(wall));
    }
    return walls;
  }

 private:
  bool stands(std::size_t piece) const {
    return plan_[piece].construction && plan_[piece].line.a != plan_[piece].line.b;
  }

  Point2 at(PieceEnd end) const { return end.at_b ? plan_[end.piece].line.b : plan_[end.piece].line.a; }

  Point2 onward(PieceEnd end) const {
    const Segment2 line = plan_[end.piece].line;
    return (1 / length(line)) * (end.at_b ? line.b - line.a : line.a - line.b);
  }

  /// The end at which the same wall goes on beyond an end.
  std::optional<PieceEnd> beyond(PieceEnd end) const {
    if (!stands(end.piece)) return {};
    const std::vector<PieceEnd>& met = ends_.at(at(end));
    if (met.size() != 2) return {};
    const PieceEnd other = met[met[0].piece == end.piece && met[0].at_b == end.at_b ? 1 : 0];
    const WallPiece &one = plan_[end.piece], &next = plan_[other.piece];
    if (dot(onward(end), onward(other)) > -kInLineCos || roof_[end.piece] != roof_[other.piece]) return {};
    if (*one.construction != *next.construction || one.height_m != next.height_m) return {};
    for (std::size_t third = 0; third < plan_.size(); ++third) {
      if (third == end.piece || third == other.piece || !stands(third)) continue;
      if (distance_to_segment(at(end), plan_[third].line) < kJointM) return {};
    }
    return other;
  }

  const std::vector<WallPiece>& plan_;
  std::span<const std::uint32_t> roof_;
  std::map<Point2, std::vector<PieceEnd>> ends_;
};

}  // namespace

std::vector<std::vector<StraightPart>> straight_walls(const std::vector<WallPiece>& plan,
                                                      std::span<const std::uint32_t> roof) {
  return StraightWalls(plan, roof).find();
}

}  // namespace linkmargin
