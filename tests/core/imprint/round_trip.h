// SPDX-License-Identifier: MIT
#pragma once

#include "core/part/part.h"

namespace touchmark::test {

/// Whether TOUCHMARK_LONG_RUN is set: what takes hours and is kept out of CI.
[[nodiscard]] bool long_run();

struct RoundTrip {
    part::PartPtr part;    ///< null where it could not be saved
    bool appended = false; ///< the mark was added to the unmarked part's text; else OpenCASCADE wrote the whole
};

/// The marked part as it is read back from a STEP file that the program saved, held against what was saved: valid,
/// closed, the same counts and volume. `unmarked`: what it was made from.
[[nodiscard]] RoundTrip round_trip(const part::PartPtr& unmarked, const part::Part& marked);

} // namespace touchmark::test
