#pragma once

#include "linkmargin/link/reverberation/diffuse_field_cells.hpp"
#include "linkmargin/link/reverberation/outer_face.hpp"

#include <vector>

namespace linkmargin {

/// What the faces of cells reflect and pass, in balance.
struct PowerBalance {
  std::vector<OuterFace> faces;
  std::vector<double> coupling;  ///< per m2, row by row: power that hits cell i for power sent in cell j
};

/// Adds up the faces of every cell and solves the balance of powers.
PowerBalance balanced_powers(const Building& building, const DiffuseFieldCells& cells);

}  // namespace linkmargin
