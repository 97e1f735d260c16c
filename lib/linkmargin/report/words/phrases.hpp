#pragma once

#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/prediction/serving/device_link.hpp"
#include "linkmargin/report/words/wording.hpp"

#include <initializer_list>
#include <string>
#include <string_view>
#include <vector>

namespace linkmargin {

struct TypedSite;

/// A text that names a command to go on with. @param key  with places {site}, {device}, {options}, {tables}
/// @param device  that it is about, if any
std::string onward_words(const Wording& wording, std::string_view key, const TypedSite& typed,
                         const std::string& device = {});

std::string cause_code(LossCause cause);      ///< "distance", "other_ways", ...: as in JSON and CSV
std::string term_code(BudgetTerm term);       ///< "path", "transmitter_body", ...: as in JSON
std::string model_word(PathLossModel model);  ///< as in the site file
std::string doors_word(Doors doors);          ///< "armed", "open": as on the command line

std::string cause_word(const Wording& wording, LossCause cause);  ///< "distance", "other paths", ...
std::string term_word(const Wording& wording, BudgetTerm term);
std::string doors_phrase(const Wording& wording, Doors doors);  ///< "all doors closed (armed)"

/// "within 15 cm of where it is": where a radio may go.
std::string reach_phrase(const Wording& wording, const Mobility& mobility);

/// From this on, what a place by itself costs is looked at before anything else (common practice).
inline constexpr double kBigMountDb = 4;

/// Whether a model counts walls, openings and obstacles one by one.
bool itemises(PathLossModel model);

/// How many walls, openings, floors and obstacles stand in the way.
std::size_t things_in_the_way(const LossBreakdown& loss);

/// The thing in the way that costs most; null where nothing in the way costs anything.
const LossItem* biggest_obstacle(const LossBreakdown& loss);

/// Whether the distance weighs more than the biggest obstacle. It is weighed by what doubling it costs, 6 dB
/// whatever the model, beyond kNearM, for some distance there always is.
bool distance_outweighs(const LossBreakdown& loss);

/// About one room (common practice).
inline constexpr double kNearM = 5;

/// What the walls, openings, floors and obstacles of a link cost together.
double obstruction_db(const LossBreakdown& loss);

/// What some terms of a budget cost together.
double lost_db(const LinkBudget& way, std::initializer_list<BudgetTerm> terms);

/// What its bends cost and the ways beside the straight line save: negative where they save more. Without
/// echoes.
double bends_db(const LossBreakdown& loss);

/// What echoes save, 0 or more.
double diffuse_db(const LossBreakdown& loss);

/// What a loss takes off the reading, in points of its scale: "13".
std::string points_text(const Wording& wording, const ReadingScale& scale, double loss_db);

/// "hub through landing repeater". @param via  repeaters, the first beside the device
std::string way_text(const Wording& wording, const std::string& hub, const std::vector<std::string>& via);

/// "good", "doubtful", "weak": as JSON and CSV have it.
std::string_view outcome_code(Outcome outcome);

}  // namespace linkmargin
