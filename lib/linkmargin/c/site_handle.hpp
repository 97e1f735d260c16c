#pragma once

#include "linkmargin/base/diagnostic.hpp"
#include "linkmargin/base/range.hpp"
#include "linkmargin/c/linkmargin.h"
#include "linkmargin/messages/language.hpp"
#include "linkmargin/prediction/serving/endpoint_cache.hpp"
#include "linkmargin/prediction/uncertainty/shadowing_regression.hpp"
#include "linkmargin/site/edit/edit.hpp"
#include "linkmargin/site/reading.hpp"
#include "linkmargin/site/site.hpp"

#include <exception>
#include <functional>
#include <new>
#include <optional>
#include <string>
#include <vector>

/// What the C interface's functions share. Not installed.
struct lm_site {
  std::string text;                ///< of the file, as it was opened
  linkmargin::Site site;           ///< with the edits; as far as it could be read where there are faults
  linkmargin::Diagnostics faults;  ///< of the file
  const linkmargin::Language& language;
  std::vector<linkmargin::Edit> edits{};  ///< that `text` does not hold yet
  linkmargin::SceneCacheSet scenes{};
  std::vector<linkmargin::Reading> readings{};
  /// What the readings tell, for the state of the doors and the site that it was asked for last.
  std::optional<linkmargin::ShadowingRegression> nearby{};
  linkmargin::Doors nearby_doors = linkmargin::Doors::armed;
};

namespace linkmargin::c {

/// What a function says beside its status.
struct Answer {
  lm_status status = LM_DONE;
  std::string text;
};

Answer faults_answer(const Diagnostics& faults);
Answer refused(lm_status status, const std::string& why);

/// A copy that lm_free() takes back; null where there is no memory.
char* given(const std::string& text);

lm_status failed(lm_status status, const char* why, char** answer);

/// Calls work() and hands out its answer; what it throws becomes a status.
template <typename Work>
lm_status answered(char** answer, Work work) {
  try {
    const Answer made = work();
    *answer = given(made.text);
    return *answer == nullptr ? LM_NO_MEMORY : made.status;
  } catch (const DomainError& fault) {
    return failed(LM_REFUSED, fault.what(), answer);
  } catch (const std::bad_alloc&) {
    *answer = nullptr;
    return LM_NO_MEMORY;
  } catch (const std::exception& fault) {
    return failed(LM_DEFECT, fault.what(), answer);
  }
}

/// The same for a site without faults.
template <typename Work>
lm_status answered_of(const lm_site* site, char** answer, Work work) {
  return answered(answer, [&] { return site->faults.empty() ? work() : faults_answer(site->faults); });
}

inline Doors doors_of(lm_doors doors) {
  return doors == LM_DOORS_OPEN ? Doors::open : Doors::armed;
}

/// What the readings tell near them.
const ShadowingRegression& nearby(lm_site& site, Doors doors);

}  // namespace linkmargin::c
