#pragma once

#include "linkmargin/geometry/polygon.hpp"

#include <functional>
#include <optional>
#include <string>
#include <vector>

// Inside report/ only: where the names on a plan go. All in sheet pixels, y downwards.
namespace linkmargin {

struct LabelRequest {
  std::vector<std::string> lines;
  double font_px = 11;
  Point2 anchor;                             ///< what is named
  double clearance_px = 4;                   ///< from the anchor to the nearest edge of the text
  bool centred = false;                      ///< on the anchor where that is free
  double reach_px = 90;                      ///< how far away it may go
  std::function<bool(const Box2&)> allowed;  ///< empty: anywhere on the sheet
};

struct PlacedLabel {
  Box2 box;
  std::optional<Segment2> leader;  ///< from the anchor to the text, when it had to move away
};

/// Greedy: each name takes the cheapest free place about its anchor. A place is free when it lies on the
/// sheet and overlaps nothing that was blocked or placed before; it is cheap when it is near and covers
/// little of what was drawn.
class LabelLayout {
 public:
  explicit LabelLayout(Box2 sheet) : sheet_(sheet) {}

  void block(Box2 box) { blocked_.push_back(box); }
  void discourage(Segment2 line, double half_width_px = 0) { lines_.push_back({line, half_width_px}); }
  void discourage(Box2 box) { boxes_.push_back(box); }

  /// @return nothing when no place within reach is free
  std::optional<PlacedLabel> place(const LabelRequest& request);

  const std::vector<Box2>& labels() const { return labels_; }

 private:
  bool is_free(const Box2& box, const LabelRequest& request) const;
  bool leader_is_free(Segment2 leader) const;
  double cost_of_cover(const Box2& box) const;

  struct Line {
    Segment2 segment;
    double half_width_px = 0;
  };

  Box2 sheet_;
  std::vector<Box2> blocked_;  // symbols and placed labels
  std::vector<Box2> labels_;
  std::vector<Line> lines_;
  std::vector<Box2> boxes_;
};

inline constexpr double kLineSpacing = 1.15;

bool overlap(const Box2& left, const Box2& right);
bool touches(Segment2 line, const Box2& box);

}  // namespace linkmargin
