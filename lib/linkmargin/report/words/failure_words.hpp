#pragma once

#include "linkmargin/prediction/link_table_result.hpp"
#include "linkmargin/report/document/document.hpp"
#include "linkmargin/report/words/wording.hpp"

#include <span>

namespace linkmargin {

/// What is lost if one hub or repeater fails: an item each, marked where something is.
BulletList failure_list(const Wording& wording, std::span<const SingleFailure> failures);

}  // namespace linkmargin
