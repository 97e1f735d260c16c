#pragma once

#include "linkmargin/analysis/survey/spot_search.hpp"
#include "linkmargin/site/mounting/hanging_spot.hpp"
#include "linkmargin/site/site.hpp"

// Inside the library only.
namespace linkmargin {

/// centimetre_options() of a device whose profile and place are known.
SpotSearchOptions spot_options(const Device& device, const Profile& profile, const HangingSpot& hangs);

/// What spots of a device lie on that hangs so.
SpotSetting spot_setting(const Profile& profile, const HangingSpot& hangs);

}  // namespace linkmargin
