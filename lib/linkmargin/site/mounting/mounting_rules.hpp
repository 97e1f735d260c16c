#pragma once

#include "linkmargin/site/site.hpp"

/// How near to what a radio is fixed.
namespace linkmargin {

/// How far off the face of its wall the middle of a radio is (common practice: half the depth of a housing).
inline constexpr double kMountedOffM = 0.03;

/// The same where the wall is a sheet of metal, which takes no radio: on a board or bracket before it, nearly
/// half a wavelength at 868 MHz (common practice).
inline constexpr double kBeforeMetalM = 0.15;

/// Half the thickness of a wall whose thickness is not stated (common practice: a stud wall).
inline constexpr double kUsualHalfWallM = 0.05;

/// How near to a corner of the room, and to what stands in it, nothing is proposed (common practice).
inline constexpr double kCornerClearM = 0.15;
inline constexpr double kObstacleClearM = 0.1;
inline constexpr double kMetalClearM =
    0.3;  ///< to an obstacle of metal: more than half a wavelength over two

/// How wide the frame round an opening is (common practice).
inline constexpr double kFrameM = 0.1;

/// How near to an opening the middle of a hub or repeater may be, beside it or over it: 10 cm of architrave,
/// and half of a housing 20 cm wide (common practice).
inline constexpr double kMainsOpeningClearM = 0.2;

/// The narrowest piece of wall, between openings and corners, that a hub or repeater goes on (common
/// practice).
inline constexpr double kLeastPierM = 0.5;

/// How far a detector on a ceiling stays off the walls (common practice for point detectors).
inline constexpr double kCeilingClearM = 0.5;

/// How far a detector on the floor stays off the walls (common practice: half its housing).
inline constexpr double kFloorClearM = 0.05;

/// How near to its opening a radio on a frame hangs (common practice).
inline constexpr double kFrameReachM = 0.5;

/// Half the thickness of a wall: as stated, by its layers, or kUsualHalfWallM.
double half_thickness_m(const Site& site, const Construction& construction);

/// How far off the face of a wall radios hang: kMountedOffM, before metal kBeforeMetalM.
double mounted_off_m(const Site& site, const Construction& construction);

/// Whether a room has a bath, a shower or a toilet, as `use` says or, without it, its name: no place for a
/// radio that is not there already. A room whose socket is listed is none by its name. Common practice, local
/// rules first: IEC 60364-7-701 keeps socket-outlets out of the zones about a bath or shower.
bool is_wet(const Room& room);

/// Whether a material is a sheet or a mesh of metal, to be kept off.
bool is_metal(const Material& material);

}  // namespace linkmargin
