#pragma once

#include "linkmargin/analysis/visit/visit_plan.hpp"
#include "linkmargin/report/words/wording.hpp"

#include <string>
#include <vector>

// Inside report/ only: what is said of a plan for the visit, for every medium.
namespace linkmargin {

/// What a reader in a hurry must not miss, a sentence a thought.
std::vector<std::string> visit_verdict(const Wording& wording, const VisitPlan& plan);

/// Which devices have their chance by spots that are tried, which `check` cannot know.
std::vector<std::string> visit_spot_words(const Wording& wording, const VisitPlan& plan);

/// What is taken along; empty where that is nothing.
std::vector<std::string> visit_part_words(const Wording& wording, const VisitPlan& plan);

/// One stop for the technician who stands there.
struct StopWords {
  std::string name;                ///< of the device, hub or repeater
  std::string where;               ///< where it is before anything is done
  std::vector<std::string> steps;  ///< in order; the last ones say when it is done, and what else to do
};

StopWords stop_words(const Wording& wording, const Site& site, const VisitPlan& plan, const VisitStop& stop);

/// What is left once the walk is done.
std::vector<std::string> visit_left(const Wording& wording, const VisitPlan& plan);

/// What the figures are, and how sure it is that no plan is better.
std::vector<std::string> visit_proof(const Wording& wording, const VisitPlan& plan);

}  // namespace linkmargin
