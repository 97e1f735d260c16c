#pragma once

#include "linkmargin/base/result.hpp"
#include "linkmargin/messages/language.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace linkmargin {

/// The tags of the languages that are built into the program, English first.
const std::vector<std::string>& built_in_languages();

/// A built-in language. @throws DomainError when there is none of this tag
const Language& built_in_language(std::string_view tag);

/// Reads a language from a file of its own (docs/commands/report.md, "Languages").
/// @return the language, with every text that the English one has and no place that it lacks; or every fault
///         by line and column
Result<Language> parse_language(std::string_view text, const std::string& file_name);

/// Of the settings of a POSIX locale in their order (LC_ALL, LC_MESSAGES, LANG), each null or empty where it
/// is not set, the built-in language of the first that is set; English where there is none. "de_AT.UTF-8" is
/// "de".
std::string language_of_locale(const std::vector<const char*>& settings);

}  // namespace linkmargin
