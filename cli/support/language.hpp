#pragma once

#include "linkmargin/messages/language.hpp"

#include "support/arguments.hpp"

namespace linkmargin::cli {

/// What people read an answer in: the language of --language, a built-in one by its tag or a file of one;
/// without the option that of the locale.
/// @throws Failure on a language that is not known, and on a file of one that cannot be read or is wrong
const Language& language_of(const Arguments& arguments);

/// The same, with lengths in a unit: that of the site file. What programs read stays in metres.
const Language& language_of(const Arguments& arguments, LengthUnit unit);

/// What the texts in JSON and CSV are in, which programs read: English where --language says nothing.
const Language& data_language(const Arguments& arguments);

}  // namespace linkmargin::cli
