#pragma once

#include "linkmargin/analysis/relocation/relocation_result.hpp"
#include "linkmargin/analysis/survey/reading_verdict.hpp"
#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/report/words/wording.hpp"

#include <string>
#include <vector>

// One link in sentences. Not installed.
namespace linkmargin {

/// A heading and what stands below it.
struct Section {
  std::string title;
  std::vector<std::string> lead{};
  std::vector<std::string> list{};
  bool numbered = false;
  std::vector<std::string> remarks{};
};

/// Verdict, how much is expected, and by how much that is over or under what is needed.
std::string explain_headline(const Wording& wording, const Site& site, const LinkTable& table,
                             const Link& link);

/// What follows the verdict: what to do, why, how sure.
/// @param relocation  of that device alone: what to try; null: nothing needs to be done
std::vector<Section> explain_sections(const Wording& wording, const Site& site, const LinkTable& table,
                                      const Link& link, const ReadingAnswer* read,
                                      const Relocation* relocation);

}  // namespace linkmargin
