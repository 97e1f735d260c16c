#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace linkmargin {

/// A date, a date and a time, or a time alone, in the order of ISO 8601, from what people write:
/// "2026-03-01", "2026-03-01 14:05", "2026-03-01T14:05:30", "9:05".
/// @return in one writing: figures of a fixed width, a T between date and time, seconds only where they are
///         not 0. Texts of one kind then sort by time. Nothing where it is none of these, or no such day or
///         hour exists (0:00 to 23:59:59; the calendar of today, years 1000 to 9999).
std::optional<std::string> moment_text(std::string_view written);

/// The moment that was meant by a date written day first with points ("1.3.2026", "01.03.2026 14:05"), which
/// can be read in one way only; nothing for all else.
std::optional<std::string> meant_moment(std::string_view written);

}  // namespace linkmargin
