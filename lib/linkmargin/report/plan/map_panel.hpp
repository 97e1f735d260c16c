#pragma once

#include "linkmargin/report/plan/plan_frame.hpp"
#include "linkmargin/report/words/wording.hpp"

// Inside report/ only: the part of a sheet that a storey's map takes up.
namespace linkmargin::plan {

class MapPanel {
 public:
  /// @param world in site metres, not empty
  explicit MapPanel(const Box2& world);

  double sheet_width_px() const;
  double px_per_m() const { return px_per_m_; }

  /// Draws the rulers under what stands on the sheet. @return where the plan goes
  Frame begin(const Wording& wording, Sheet& sheet) const;

  /// Draws the rim over the plan; the sheet is free under the panel then.
  void end(Sheet& sheet, const Frame& frame) const;

 private:
  Point2 size_px() const { return px_per_m_ * (world_.max - world_.min); }
  Box2 world_;
  double longest_m_ = 1;
  double px_per_m_ = 1;
};

}  // namespace linkmargin::plan
