#pragma once

#include "linkmargin/report/plan/framed_plan.hpp"
#include "linkmargin/report/words/wording.hpp"

// Inside report/ only: the part of a sheet that a storey's map takes up.
namespace linkmargin::plan {

class MapPanel {
 public:
  /// @param shown in site metres, not empty
  explicit MapPanel(const Framing& shown);

  double sheet_width_px() const;
  double px_per_m() const { return px_per_m_; }

  /// Draws the rulers under what stands on the sheet. @return where the plan goes
  FramedPlan begin(const Wording& wording, Sheet& sheet) const;

  /// Draws the rim over the plan; the sheet is free under the panel then.
  void end(Sheet& sheet, const FramedPlan& plan) const;

 private:
  Point2 main_px() const { return px_per_m_ * (shown_.main.max - shown_.main.min); }
  double wide_px() const;
  Framing shown_;
  double longest_m_ = 1;
  double px_per_m_ = 1;
};

}  // namespace linkmargin::plan
