#pragma once

#include "linkmargin/link/radio/radio_end.hpp"
#include "linkmargin/site/environment.hpp"
#include "linkmargin/site/warning.hpp"

#include <vector>

namespace linkmargin {

/// Noise figure of a receiver whose profile states a sensitivity and none: common practice for receivers of
/// short-range devices.
inline constexpr double kUsualNoiseFigureDb = 7;

/// By how much a site's noise lies over what a receiver has by itself: 10 log10 of total noise factor over
/// the receiver's own, by the site's noise area, and the site's own rise on top. Where no figure is published
/// for the frequency, that rise alone.
/// @param noise_figure_db  the receiver's
/// @return decibels, >= 0
double noise_rise_db(const PropagationSettings& radio, double noise_figure_db);

/// The same radio where it stands: with the noise rise of its site.
RadioEnd in_noise(RadioEnd end, const PropagationSettings& radio);

/// That no figure is published for the site's frequency, if so.
std::vector<Warning> noise_warnings(const PropagationSettings& radio);

}  // namespace linkmargin
