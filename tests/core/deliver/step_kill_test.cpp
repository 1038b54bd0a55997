// SPDX-License-Identifier: MIT
#include "core/deliver/step.h"
#include "tests/core/deliver/shapes.h"
#include "tests/support/reader.h"
#include "tests/support/scratch_folder.h"

#include <gtest/gtest.h>

#include <chrono>
#include <cmath>
#include <csignal>
#include <cstdlib>
#include <fcntl.h>
#include <random>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>

namespace touchmark::deliver {
namespace {

constexpr const char* target_variable = "TOUCHMARK_TEST_TARGET";
constexpr const char* pipe_variable = "TOUCHMARK_TEST_PIPE";

/// The victim: this very program, run again with only this test. It says when it begins and writes until it is killed.
TEST(Victim, DISABLED_WritesForEver) {
    const char* target = std::getenv(target_variable);
    const char* pipe = std::getenv(pipe_variable);
    ASSERT_TRUE(target && pipe);
    const part::PartPtr parts[] = {test::box_part(10, 20, 30), test::box_part(10, 20, 40)};
    for (int n = 0;; ++n) {
        if (n == 1) { // the first time loads what OpenCASCADE needs
            ASSERT_EQ(::write(std::atoi(pipe), "!", 1), 1);
        }
        ASSERT_TRUE(write_step(*parts[n % 2], target, {}, test::reader(), Progress()));
    }
}

pid_t start_victim(const std::filesystem::path& target, int pipe) {
    const std::string program = std::filesystem::read_symlink("/proc/self/exe");
    const pid_t child = ::fork();
    if (child != 0) return child;
    ::setenv(target_variable, target.c_str(), 1);
    ::setenv(pipe_variable, std::to_string(pipe).c_str(), 1);
    ::dup2(::open("/dev/null", O_WRONLY), STDOUT_FILENO);
    ::execl(program.c_str(), program.c_str(), "--gtest_filter=Victim.*", "--gtest_also_run_disabled_tests",
            static_cast<char*>(nullptr));
    ::_exit(127);
}

TEST(WriteStep, AKillAtAnyMomentLeavesOneWholePart) {
    const test::ScratchFolder folder;
    const std::filesystem::path target = folder / "part.step";
    const part::PartPtr box = test::box_part(10, 20, 30);
    const auto report = write_step(*box, target, {}, test::reader(), Progress());
    ASSERT_TRUE(report) << report.error().message;
    // Kills fall anywhere in two rounds of writing and reading back.
    std::mt19937 random(31);
    std::uniform_real_distribution<double> delay(0, 2 * (report->seconds_write + report->seconds_verify));
    int unfinished = 0;
    for (int kill = 0; kill < 16; ++kill) {
        int ready[2];
        ASSERT_EQ(::pipe(ready), 0);
        const pid_t victim = start_victim(target, ready[1]);
        ::close(ready[1]);
        char begun = 0;
        ASSERT_EQ(::read(ready[0], &begun, 1), 1) << "the victim did not begin";
        std::this_thread::sleep_for(std::chrono::duration<double>(delay(random)));
        ::kill(victim, SIGKILL);
        int status = 0;
        ::waitpid(victim, &status, 0);
        ::close(ready[0]);
        ASSERT_TRUE(WIFSIGNALED(status));

        const auto left = test::reader().read(target, Progress());
        ASSERT_TRUE(left) << "kill " << kill << ": " << left.error().message;
        const double volume = (*left)->volume_mm3();
        EXPECT_TRUE(std::abs(volume - 6000) < 1e-6 || std::abs(volume - 8000) < 1e-6) << volume;
        for (const std::string& name : folder.names())
            if (name != "part.step") {
                ++unfinished; // the kill fell into a write, not between two
                std::filesystem::remove(folder / name);
            }
    }
    EXPECT_GT(unfinished, 4);
}

} // namespace
} // namespace touchmark::deliver
