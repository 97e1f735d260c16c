#pragma once

#include "linkmargin/messages/language.hpp"
#include "linkmargin/site/warning.hpp"

#include <string>
#include <vector>

namespace linkmargin {

/// A sentence; in a list of many links that of one begins with its device.
std::string warning_text(const Language& language, const Warning& warning);

/// One text each.
std::vector<std::string> warning_texts(const Language& language, const std::vector<Warning>& warnings);

/// "brick (1000 to 40000 MHz)".
std::string stated_text(const Language& language, const StatedBand& stated);
std::vector<std::string> stated_texts(const Language& language, const std::vector<StatedBand>& bands);

}  // namespace linkmargin
