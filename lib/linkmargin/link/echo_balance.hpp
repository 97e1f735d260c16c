#pragma once

#include "linkmargin/link/echoes.hpp"

namespace linkmargin {

/// Adds up what the faces of every cell reflect and pass, and solves the balance of powers: the coupling
/// between cells and the faces towards the open. Not installed.
/// @param echoes its cells are cut
void balance_echoes(const Scene& scene, Echoes& echoes);

}  // namespace linkmargin
