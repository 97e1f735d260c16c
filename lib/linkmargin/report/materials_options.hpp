#pragma once

#include "linkmargin/report/document/document.hpp"
#include "linkmargin/site/material.hpp"

#include <string>

namespace linkmargin {

struct MaterialsOptions {
  double frequency_hz = 868.3e6;  ///< > 0
  double thickness_m = 0.1;       ///< of a wall of a material known by its electrical properties
};

}  // namespace linkmargin
