#pragma once

#include "linkmargin/analysis/relocation/relocation_result.hpp"

namespace linkmargin {

/// What to try for each weak device. Slots of a hub are given to the first that asks. Never proposes a place
/// outside `may_move` or where nothing can hang, and for a device whose place is ruled by more than radio
/// only what leaves it there but for centimetres.
///
/// Places are looked for along walls, ceilings and frames (mounting_places.hpp): kPlaceStepM apart for
/// devices, kHubStepM for hubs, kRepeaterStepM for a repeater to be added. Each remedy is by itself; two at
/// once are not looked for.
/// @param site sound: validate(site) is empty
/// @throws DomainError when a device is unknown, a reading is no percentage or chance is outside
///         kRelocationChance
Relocation relocation(const Site& site, const RelocationOptions& options);

/// What is done first for a device without buying anything: the first remedy that is enough, a repeater that
/// the site has among them; where none is, the one with the greatest chance, spots beside it counted.
/// @return null where there is none, and where the cause of an unexplained reading comes first
const Remedy* chosen(const DeviceRelocation& device);

/// The edits of what is chosen for all devices. Where two devices ask for the same thing to be moved, the
/// first has its way.
std::vector<Edit> chosen_edits(const Relocation& relocation);

}  // namespace linkmargin
