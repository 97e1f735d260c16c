#pragma once

#include "linkmargin/analysis/relocation/relocation.hpp"
#include "linkmargin/report/words/wording.hpp"

#include <string>
#include <vector>

// Inside report/ only: what can be done for a weak device, said once for terminal and page.
namespace linkmargin {

/// One thing to try, as a sentence or two.
std::string remedy_action(const Wording& wording, const Site& site, const Remedy& remedy);

/// One thing to try with what is then expected. @param remedy of the relocation
std::string remedy_words(const Wording& wording, const Site& site, const Relocation& relocation,
                         const Remedy& remedy);

/// "First choice." before the remedy that is chosen, "Best choice without ..." where that is not enough.
std::string chosen_words(const Wording& wording, const Remedy& chosen);

/// The words of a remedy, "First choice." before them where it is that. @param remedy of the device
std::string remedy_line(const Wording& wording, const Site& site, const Relocation& relocation,
                        const DeviceRelocation& device, const Remedy& remedy);

/// What to do about what the mounting, or a hand or body, costs at the device. None where that is little.
std::vector<std::string> mounting_words(const Wording& wording, const Site& site,
                                        const DeviceRelocation& found);

/// Why something is not proposed.
std::string skip_words(const Wording& wording, const DeviceRelocation& device, SkipReason reason);

}  // namespace linkmargin
