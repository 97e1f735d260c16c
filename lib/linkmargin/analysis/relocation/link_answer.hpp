#pragma once

#include "linkmargin/analysis/relocation/relocation_result.hpp"
#include "linkmargin/analysis/survey/reading_verdict.hpp"
#include "linkmargin/analysis/survey/tried_spots.hpp"
#include "linkmargin/prediction/link_table_result.hpp"

#include <optional>
#include <vector>

namespace linkmargin {

/// What is said of one link beside its figures.
struct LinkAnswer {
  std::optional<ReadingAnswer> read{};  ///< what its readings say
  std::optional<Relocation> tried{};    ///< what to try; absent where nothing needs to be done
};

/// The spots of a link's device that the rows of readings are of, where they are to be answered: not where
/// the one reading is enough.
std::vector<TriedSpot> spots_of_rows(const Site& site, const LinkTable& table, const Link& link);

/// @param site     sound: validate(site) is empty
/// @param options  of the table that the link is of
/// @param link     to the hub or repeater that serves the device, or to another
/// @param spots    that were read, the present one first; empty: none
/// @param percent  of the present spot, where `options.readings` do not have it
LinkAnswer link_answer(const Site& site, const LinkTableOptions& options, const Link& link,
                       const std::vector<TriedSpot>& spots, std::optional<double> percent = {});

}  // namespace linkmargin
