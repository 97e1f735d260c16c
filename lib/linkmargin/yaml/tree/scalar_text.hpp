#pragma once

#include <string>
#include <string_view>

/// Values as they are written into a file.
namespace linkmargin::yaml {

/// How texts are written: plain where that is safe, in one kind of quotation marks otherwise.
enum class Quotes { as_needed, single, always_double };

/// The marks in which a text stands that begins with this character.
Quotes quotes_of(char first);

/// A name or word on one line, safe in lists and maps in brackets too. Plain where as_needed allows it:
/// letters, digits and a few signs that YAML reads as nothing else, neither a number nor a switch.
std::string scalar_text(std::string_view value, Quotes quotes = Quotes::as_needed);

/// Whether a text is a switch that is on, or one that is off.
bool is_switch(std::string_view text, bool on);

/// A switch in the words of the old one (on and off, true and false, yes and no); on or off where there is
/// none.
std::string switch_text(bool on, std::string_view old);

}  // namespace linkmargin::yaml
