#pragma once

#include "linkmargin/prediction/present_readings.hpp"
#include "linkmargin/prediction/serving/serving.hpp"

#include <cstddef>

namespace linkmargin {

/// A device enrolled as it was read: the equipment chose that way, and of it the reading tells. A reading
/// that does not say is of the way that serves without readings.
/// @param bare  the site's stations without readings (without_readings())
Device as_read(const Site& site, const Device& device, const PresentReading& read, const Stations& bare,
               const FadingModel& fading_model);

/// A device as though it did not say how it is enrolled.
Device unenrolled(Device device);

/// The stations as though one of the readings had not been taken; where none is counted, as they are. Ways of
/// repeaters stay.
Stations without_reading(Stations stations, std::size_t row);

/// The same for all readings.
Stations without_readings(Stations stations);

}  // namespace linkmargin
