#pragma once

namespace linkmargin {

/// What a plan shows large.
enum class PlanFraming {
  building,  ///< the main building; what lies farther off is on a small plan of all beside it
  all        ///< all that is on the storey
};

}  // namespace linkmargin
