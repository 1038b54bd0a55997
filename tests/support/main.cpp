// SPDX-License-Identifier: MIT
#include <gtest/gtest.h>

#ifdef TOUCHMARK_TEST_READS_PARTS
#include "tests/support/reader.h"
#endif

int main(int argc, char** argv) {
#ifdef TOUCHMARK_TEST_READS_PARTS
    touchmark::test::start_reader(); // forks, so before anything else
#endif
    testing::InitGoogleTest(&argc, argv);
    return RUN_ALL_TESTS();
}
