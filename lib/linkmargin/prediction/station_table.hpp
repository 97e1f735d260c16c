#pragma once

#include "linkmargin/prediction/link_table_result.hpp"
#include "linkmargin/prediction/serving/serving.hpp"

namespace linkmargin {

/// link_table() by a scene and stations that are there already.
/// @param scene,stations,fading_model  of the site, with the doors and readings near by of the options
LinkTable link_table(const Site& site, const LinkTableOptions& options, const Scene& scene,
                     const Stations& stations, const FadingModel& fading_model);

}  // namespace linkmargin
