#pragma once

namespace linkmargin {

/// What is known of a link's local mean: the prediction plus `shift_db`, give or take `sigma_db`.
struct LocalMean {
  double shift_db = 0;
  double sigma_db = 0;
};

}  // namespace linkmargin
