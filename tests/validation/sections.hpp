#pragma once

#include "linkmargin/geometry/point.hpp"

#include "markdown.hpp"

#include <string>
#include <vector>

namespace linkmargin::validation {

/// One check as a line of the table that opens the document.
struct Outcome {
  std::string check;
  Deviations deviations;
  std::string unit = "dB";
  double limit = 0;  ///< that the worst deviation must keep
  int shown = 4;     ///< decimals

  bool kept() const { return deviations.count() > 0 && deviations.worst() <= limit; }
};

/// A part of the document with its outcomes.
struct Section {
  std::string text;
  std::vector<Outcome> outcomes;
  bool kept = true;  ///< limits that are no largest distance
};

Section distance_section();       ///< free space and ITU-R P.1238
Section slab_section();           ///< ITU-R P.2040: published values and closed forms
Section full_wave_section();      ///< slabs and layers by a field solver
Section floor_section();          ///< COST 231
Section receiver_section();       ///< noise, sensitivity, radiated power, log-normal margin
Section edge_section();           ///< ITU-R P.526 and the Fresnel integral
Section doorway_section();        ///< doorways in walls by a field solver
Section building_section();       ///< whole buildings by a field solver in three dimensions
Section reverberation_section();  ///< rooms in sight, ITU-R P.1238
Section metal_section();          ///< a dipole near metal by the method of moments

/// The program's figure for one square of a scenario of doorways_fdtd.csv, in dB over free space.
double doorway_square_db(const std::string& scenario, Point2 middle);

}  // namespace linkmargin::validation
