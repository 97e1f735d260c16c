#include "linkmargin/analysis/review/site_review.hpp"
#include "linkmargin/c/site_handle.hpp"
#include "linkmargin/report/page/page.hpp"

#include <utility>

namespace linkmargin::c {
namespace {

/// As `linkmargin report` makes it for the customer.
Answer reported(const lm_site& site, ReviewOptions options, const char* date) {
  options.readings = site.readings;
  options.place_trials = true;
  const SiteReview review = site_review(site.site, options);
  const Language language(site.language.words(), site.site.units.length);
  return {LM_DONE, page_html(site.site, review, language, {.date = date, .version = LINKMARGIN_VERSION})};
}

}  // namespace
}  // namespace linkmargin::c

using namespace linkmargin;

extern "C" {

lm_status lm_report(lm_site* site, lm_doors doors, const char* date, lm_progress progress, void* context,
                    char** answer) {
  return c::answered_of(site, answer, [&] {
    ReviewOptions options{.doors = c::doors_of(doors)};
    if (progress != nullptr) options.progress = [=](double share) { progress(context, share); };
    return c::reported(*site, std::move(options), date);
  });
}

}  // extern "C"
