#pragma once

#include "linkmargin/geometry/point.hpp"
#include "linkmargin/link/radio/radio_end.hpp"
#include "linkmargin/site/radio.hpp"

#include <optional>

namespace linkmargin {

/// The same radio as it is fixed: with what the metal behind it costs in front of the sheet and behind it.
/// The loss in front counts until towards() knows where the far end lies.
///
/// In front the endless sheet's curve holds, behind the curve of the 0.36 m slab
/// (propagation/metal_proximity). A loss is never less than nothing: the gain of up to 3 dB that a large
/// sheet adds in front, from 0.08 wavelengths on, is not counted, since it fades with the sheet's size and
/// hangs on the tuning of a dipole.
RadioEnd on_mount(RadioEnd end, const std::optional<Mount>& mount, double frequency_hz);

/// What metal costs towards one far end.
/// @param at,far_end metres, the radio and the other end
double metal_loss_db(const MetalSheet& metal, Point3 at, Point3 far_end);

/// The same radio for one link. Where the metal's facing is known, it costs the more the further behind the
/// sheet's plane the far end lies, without a step; where it is not, nothing changes.
/// @param at,far_end metres; the sheet is upright through `at`, so that a far end straight above is in its
/// plane
RadioEnd towards(RadioEnd end, Point3 at, Point3 far_end);

}  // namespace linkmargin
