#pragma once

#include "linkmargin/analysis/coverage/coverage.hpp"
#include "linkmargin/analysis/relocation/relocation.hpp"
#include "linkmargin/analysis/review/place_trials.hpp"
#include "linkmargin/analysis/visit/visit_plan.hpp"
#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/prediction/present_readings.hpp"
#include "linkmargin/site/edit/edit.hpp"

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace linkmargin {

struct ReviewOptions {
  Doors doors = Doors::armed;  ///< how they stand for the remedies and the cases, and what is shown first
  std::vector<Reading> readings{};  ///< of the site's devices, as RelocationOptions takes them
  std::vector<NamedEdits> cases{};  ///< each sound for the site (edited_site())
  std::optional<Site> before{};     ///< the site as it was before something was moved
  bool single_failures = false;     ///< what is lost if one hub or repeater fails, where there are two
  double step_m = 0;                ///< between cells of maps; 0: by the storey's size (review_step_m())
  bool place_trials = false;        ///< other places of hubs, repeaters and weak devices are calculated
  int threads = 1;                  ///< >= 1; changes nothing in the result
  ProgressCall progress{};          ///< may be empty
};

/// The site with its doors in one state.
struct DoorsReview {
  LinkTable table;  ///< of the links that serve; with single failures, where asked for, in the first state
  std::vector<CoverageMap>
      maps;  ///< with chances, one a storey on which something is, in the order of the site
};

/// The site with a case done to it.
struct CaseReview {
  std::string name;
  LinkTable table;
};

/// All that a report on a site tells.
struct SiteReview {
  std::vector<DoorsReview> states;  ///< as asked for; then the other one where some leaf opens
  Relocation relocation;            ///< of the weak devices
  VisitPlan visit;                  ///< for all that need something
  LinkTable as_planned;  ///< doors as asked for, without readings: what the next two are compared with
  /// In the order of the options, without readings. One without edits is as_planned once more, and left out.
  std::vector<CaseReview> cases;
  std::optional<LinkTable> before;       ///< without readings
  std::vector<Reading> readings;         ///< as given
  PresentReadings present;               ///< of `readings`, with the doors as asked for
  std::vector<RadioTrials> trials{};     ///< where asked for, with the doors as asked for
  std::vector<std::string> far_lower{};  ///< devices that read enough, but so low that something is wrong
};

/// @param site sound: validate(site) is empty
/// @throws DomainError where coverage() or relocation() do, and when a case cannot be made of the site
SiteReview site_review(const Site& site, const ReviewOptions& options);

/// Some 220 cells along the longer side, at least 5 cm.
double review_step_m(const Box2& extent);

}  // namespace linkmargin
