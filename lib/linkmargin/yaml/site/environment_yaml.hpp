#pragma once

#include "linkmargin/site/environment.hpp"
#include "linkmargin/yaml/tree/object_reader.hpp"

namespace linkmargin::yaml {

/// The section `radio`.
PropagationSettings read_environment(const Cursor& cursor, Faults& faults);

/// The section `fading`: its keys, or a switch in their place.
Fading read_fading(const Cursor& cursor, Faults& faults);

/// The section `reading`.
ReadingScale read_reading_scale(const Cursor& cursor, Faults& faults);

}  // namespace linkmargin::yaml
