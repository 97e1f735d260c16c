#pragma once

#include "linkmargin/analysis/placement/model/placement_answer.hpp"

namespace linkmargin {

/// The best places of hubs and repeaters: the worst device's chance to reach the threshold is greatest, up to
/// what is enough, then
/// the sum of all chances, then the parts are fewest. Devices stay where they are; an area counts by the
/// share of it that is served. Slots are kept; a device that names its hub has it; a repeater takes a slot
/// and is one or two hops from its hub, as Site::hops allows. The search takes the hops of a way for
/// independent; each figure of the answer is that of `check` (link_table()), the least over all cases.
///
/// Where ways round count, links are calculated one by one: a grid on which that would take too long is made
/// coarser (proved_step_m), and the choice is then refined step by step towards step_m.
/// @param site sound: validate(site) is empty
/// @return cases that edits cannot make are the caller's to refuse: edited_site()
/// @throws DomainError when a number is out of its range, a case makes no sound site, something cannot be
///         placed at all, or the places would take more than kMostPlacementBytes: with the step that fits
PlacementAnswer placement(const Site& site, const PlacementOptions& options);

}  // namespace linkmargin
