#pragma once

#include <cstdint>
#include <string>

/// The generator of sites for the tests of properties.
namespace properties {

/// An invented site file by its seed: rooms cut out of a rectangle or two, on one or two storeys, with walls
/// of all kinds, doors, windows, gates, walls that stand alone, obstacles, a hole in a slab; one or two hubs,
/// perhaps a repeater, three to six devices clear of walls, an area; models, switches and frequencies
/// as they come. It has no faults. The same text on every machine. `linkmargin_random_site SEED` prints it.
std::string random_site_text(std::uint64_t seed);

}  // namespace properties
