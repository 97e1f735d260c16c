#pragma once

#include "linkmargin/link/reverberation/diffuse_field_cells.hpp"
#include "linkmargin/link/reverberation/outer_face.hpp"

#include <Eigen/Core>

#include <cstdint>
#include <vector>

namespace linkmargin {

/// How a class's field dies away, by patterns that each fade at one rate: of power 1 in cell j the flux in
/// cell i, once the front has gone l, is the sum over k of shape(k, i) shape(k, j) exp(-rate(k) l).
struct DiffuseModes {
  std::size_t elevation = 0;  ///< of kElevationSine
  double weight = 1;          ///< with which it counts; several of one class take each other's parts off
  bool whole = false;         ///< all power, also what was never reflected, for itself
  Eigen::VectorXd rate;       ///< 1/m, > 0
  Eigen::MatrixXd shape;      ///< modes x cells, m^-3/2
};

/// What the faces of cells reflect and pass, in balance.
struct PowerBalance {
  std::vector<OuterFace> faces;
  std::vector<DiffuseModes> modes;
  std::vector<std::uint32_t> house;  ///< of each cell: those that power can pass between are of one
};

/// Of a face of 1 m2, what a class's flux meets of it, as all directions of its elevation do; both directions
/// through it count, so half of that falls on one side.
double met_share(std::size_t elevation, bool level);

/// Adds up the faces of every cell and solves the balance of powers.
/// @param threads >= 1; changes nothing in the result
PowerBalance balanced_powers(const Building& building, const DiffuseFieldCells& cells, int threads = 1);

}  // namespace linkmargin
