#pragma once

#include "linkmargin/analysis/review/site_review.hpp"
#include "linkmargin/messages/language.hpp"
#include "linkmargin/report/plan/plan_framing.hpp"
#include "linkmargin/report/what_if/what_if_summary.hpp"
#include "linkmargin/site/site.hpp"

#include <string>

namespace linkmargin {

/// Whom a page is for.
enum class Reader {
  customer,  ///< plain words and the scale of readings, no decibels
  file,      ///< all figures and all assumptions beside
};

struct PageOptions {
  Reader reader = Reader::customer;
  std::string date{};                         ///< as it is to be shown, ISO 8601: "2026-11-26"
  std::string version{};                      ///< of the program
  PlanFraming shown = PlanFraming::building;  ///< large on its plans
  const WhatIfSummary* what_if = nullptr;     ///< runs that are shown too, of this site; outlives the page
};

}  // namespace linkmargin
