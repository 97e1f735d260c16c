#pragma once

#include "linkmargin/site/reading.hpp"
#include "linkmargin/site/site.hpp"

#include "data_set.hpp"

#include <vector>

namespace linkmargin::validation {

/// The plans that go with the data sets, by the rules that docs/validation states.
Site flat_site(const DataSet& set);
Site office_site(const DataSet& set);

/// Every fixed end as a hub, and one device, "mover", that sends 0 dBm e.i.r.p. (the most of Bluetooth's
/// power class 3, from memory; for a data set of path losses it is no assumption).
void add_radios(Site& site, const DataSet& set);

/// A link as a reading of the mover where it was.
Reading as_reading(const MeasuredLink& link, bool doors_open);

}  // namespace linkmargin::validation
