#pragma once

#include <compare>

namespace linkmargin {

/// What something takes, the dearest first: efforts are compared in that order. A thing bought outweighs any
/// number of holes, a hole any number of minutes (common practice).
struct VisitEffort {
  int parts = 0;    ///< bought: 1 for a repeater, 3 for a hub, which is dearer than two repeaters
  int holes = 0;    ///< places at which a radio is fixed anew
  int minutes = 0;  ///< things that take minutes: spots to try, a spacer, an enrolment

  VisitEffort operator+(const VisitEffort& more) const {
    return {parts + more.parts, holes + more.holes, minutes + more.minutes};
  }
  friend auto operator<=>(const VisitEffort&, const VisitEffort&) = default;
};

}  // namespace linkmargin
