#pragma once

/// A loop compiled twice, for any processor and for the wider instructions that most have, chosen at run
/// time. No fused multiply-add is among them, so that both give the same bits.
///
///   LINKMARGIN_LOOP void add_body(...) { ... }      // always inlined
///   LINKMARGIN_WIDE void add_wide(...) { add_body(...); }
///   void add_any(...) { add_body(...); }
///   ... has_wide() ? add_wide(...) : add_any(...)
#if defined(__x86_64__) && defined(__GNUC__)
#define LINKMARGIN_WIDE __attribute__((target("avx2")))
#define LINKMARGIN_LOOP [[gnu::always_inline]] inline
#else
#define LINKMARGIN_WIDE
#define LINKMARGIN_LOOP inline
#endif

namespace linkmargin {

inline bool has_wide() {
#if defined(__x86_64__) && defined(__GNUC__)
  static const bool wide = __builtin_cpu_supports("avx2") != 0;
  return wide;
#else
  return false;
#endif
}

}  // namespace linkmargin
