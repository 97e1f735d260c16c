#pragma once

#include "linkmargin/geometry/box.hpp"
#include "linkmargin/site/site.hpp"

#include <optional>
#include <string>
#include <vector>

// Inside site/mounting only: what of a storey holds a radio, and what is in its way.
namespace linkmargin {

/// One face of a straight piece of wall.
struct WallFace {
  Segment2 line;  ///< of the wall's middle
  Point2 off;     ///< unit, from the wall to where radios hang
  double half_wall_m = 0;
  double hung_m = 0;           ///< how far off the face the middle of a radio hangs
  double top_m = 0;            ///< of the wall, over the floor
  const Room* room = nullptr;  ///< that the face looks into; null: outside, or a traced wall's
  bool traced = false;
  double from_m = 0;  ///< along the line, corners left out
  double to_m = 0;
};

/// An opening in its wall.
struct WallOpening {
  std::size_t opening = 0;  ///< position in Storey::openings
  Segment2 line;            ///< on the wall's, from jamb to jamb
  double half_wall_m = 0;
  double sill_m = 0;
  double head_m = 0;
  double swept_m = 0;  ///< by a leaf that is hung at either jamb; 0: none swings

  /// Whether what keeps `clear_m` off it is in its way at a height.
  bool stands_at(double height_m, double clear_m) const;
};

/// A storey made ready to be asked.
class StoreyPlan {
 public:
  StoreyPlan(const Site& site, std::size_t storey);

  const Storey& storey() const { return storey_; }
  const std::vector<WallFace>& faces() const { return faces_; }
  const std::vector<WallOpening>& openings() const { return openings_; }

  /// Whether nothing but the face itself is in the way of a radio: no corner, no opening with
  /// `opening_clear_m` round it and what its leaf sweeps, no obstacle.
  bool is_clear(Point2 at, double height_m, const WallFace& on, double opening_clear_m) const;

  /// The same for a radio on no face that is known: openings and obstacles alone count.
  bool is_open(Point2 at, double height_m, double opening_clear_m,
               std::optional<std::size_t> but_for = {}) const;

  /// How wide the piece of wall is that a place on a face belongs to: from corner or jamb to corner or jamb,
  /// of openings that reach to within `opening_clear_m` of the height; also where the line goes on past the
  /// face's ends.
  /// @param along_m  of the place, from the beginning of the face's line
  double pier_m(const WallFace& face, double along_m, double height_m, double opening_clear_m) const;

  /// Whether a wall stands between two places, a doorway in it too.
  bool is_parted(Point2 from, Point2 to) const;

  /// How near a wall's middle is, less half its thickness; traced walls lower than the height left out.
  double off_walls_m(const Room& room, Point2 at, double height_m) const;

 private:
  struct Wall {
    Segment2 line;
    Box2 box;
    double half_m = 0;
    double top_m = 0;
    bool stands = false;  ///< else open plan
  };
  struct Body {
    Polygon2 corners;
    Box2 box;
    double base_m = 0;
    double top_m = 0;
    double clear_m = 0;
  };
  double corner_m(std::size_t wall, Point2 end, Point2 off) const;
  bool goes_on(std::size_t wall, Point2 end) const;

  const Storey& storey_;
  std::vector<Wall> walls_;
  std::vector<WallFace> faces_;
  std::vector<WallOpening> openings_;
  std::vector<Body> bodies_;
};

}  // namespace linkmargin
