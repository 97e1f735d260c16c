#pragma once

#include "linkmargin/messages/language.hpp"
#include "linkmargin/yaml/site/tables.hpp"

#include <string>

namespace linkmargin::cli {

/// Asks for a first house on the error stream, line by line from the standard input: an empty line takes the
/// proposal, an answer that does not fit is asked again, the end of the input takes what is left as proposed.
/// @return the file
/// @throws Failure after too many answers in a row that do not fit
std::string asked_site(const Language& language, const Tables& tables);

}  // namespace linkmargin::cli
