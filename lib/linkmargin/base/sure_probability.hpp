#pragma once

namespace linkmargin {

/// A device that reaches what is needed with at least this chance is good; with less it is doubtful (common
/// practice).
inline constexpr double kSureProbability = 0.9;

}  // namespace linkmargin
