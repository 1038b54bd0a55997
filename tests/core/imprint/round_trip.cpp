// SPDX-License-Identifier: MIT
#include "tests/core/imprint/round_trip.h"

#include "core/deliver/step.h"
#include "core/deliver/step_verify.h"
#include "tests/support/reader.h"
#include "tests/support/scratch_folder.h"

#include <gtest/gtest.h>

#include <cstdlib>

namespace touchmark::test {

bool long_run() {
    const char* wanted = std::getenv("TOUCHMARK_LONG_RUN");
    return wanted && *wanted;
}

RoundTrip round_trip(const part::PartPtr& unmarked, const part::Part& marked) {
    static const auto store = std::make_shared<deliver::StepStore>();
    const ScratchFolder folder;
    const deliver::StepOptions options{.unmarked = unmarked, .store = store};
    const auto report = deliver::write_step(marked, folder / "marked.step", options, reader(), Progress());
    EXPECT_TRUE(report) << report.error().message;
    if (!report) return {};
    part::PartPtr back = read_part(folder / "marked.step");
    const Status same = deliver::same_part(marked, *back, {});
    EXPECT_TRUE(same) << same.error().message;
    return {std::move(back), report->route == deliver::StepRoute::appended};
}

} // namespace touchmark::test
