#pragma once

#include "linkmargin/prediction/present_readings.hpp"
#include "linkmargin/prediction/serving/device_link.hpp"

namespace linkmargin {

/// By what a device was read on site, else by its prediction:
/// - read: weak under the threshold; doubtful where an earlier reading at the same place was; else good;
/// - not read: weak where its hop is predicted to be; doubtful where the chance of its way is under
///   kSureProbability; else good.
/// A device whose margin is under the reserve that its profile asks for (Link::lacks_reserve) is doubtful at
/// best. No device does better than the repeater that it is enrolled at.
/// @param present  of the site's devices and repeaters
Outcome outcome(const Link& link, const ReadingScale& scale, const PresentReadings& present);

}  // namespace linkmargin
