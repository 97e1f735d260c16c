#pragma once

#include "linkmargin/analysis/visit/visit_result.hpp"

namespace linkmargin {

/// One plan for the visit: what to do so that every device that needs it gets the chance asked for, with the
/// fewest parts bought, then the fewest holes, then the fewest things that take minutes, in the order of the
/// walk.
///
/// A device needs something that was read weak; or that was not read, and is predicted weak or with less than
/// the chance asked for. For each the remedies of relocation() are taken, and two at once where they go
/// together: a spacer, another place, another enrolment, spots. Shared equipment is changed in sets of up to
/// three: a hub or repeater moved, a repeater or hub added, at places chosen for all devices that need it.
/// What a set does is calculated for every device; one that harms a device that was good enough, or an area,
/// is not taken. Which set and which remedies are taken, visit_choice() says.
///
/// What follows the visit is link_table() of the site with all edits. A device that was read keeps what was
/// read where nothing about it changes; else it is predicted, readings near by counted.
/// @param site sound: validate(site) is empty
/// @throws DomainError when a reading is no percentage or chance is outside kRelocationChance
VisitPlan visit_plan(const Site& site, const VisitPlanOptions& options);

/// The devices that then lack the chance asked for, in the order of the walk.
std::vector<std::string> short_devices(const VisitPlan& plan);

/// What is taken along.
struct VisitParts {
  int repeaters = 0;
  int hubs = 0;
  int spacers = 0;
  int spare_spacers = 0;  ///< for what is tried next where a reading does not come
  int boards = 0;         ///< that radios hang on before sheet metal
  bool drill = false;     ///< something is fixed anew
  bool lead = false;      ///< a hub or repeater is held where it has no socket yet
};
/// What all stops of a plan together take.
VisitParts visit_parts(const VisitPlan& plan);

}  // namespace linkmargin
