// SPDX-License-Identifier: MIT

// The machinery around reading: processes, memory, time, cancelling, descriptors, silence.

#include "tests/core/part/derived_files.h"
#include "tests/support/open_parts.h"
#include "tests/support/reader.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <atomic>
#include <chrono>
#include <csignal>
#include <fstream>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>

namespace touchmark::test {
namespace {

using Clock = std::chrono::steady_clock;
using std::chrono::milliseconds;

std::size_t open_descriptors() {
    return static_cast<std::size_t>(
        std::distance(std::filesystem::directory_iterator("/proc/self/fd"), std::filesystem::directory_iterator()));
}

/// Processes whose parent is `parent`, zombies included.
std::vector<pid_t> children_of(pid_t parent) {
    std::vector<pid_t> children;
    for (const auto& entry : std::filesystem::directory_iterator("/proc")) {
        const std::string name = entry.path().filename().string();
        if (name.find_first_not_of("0123456789") != std::string::npos) continue; // no process
        std::ifstream stat(entry.path() / "stat");
        const std::string line{std::istreambuf_iterator<char>(stat), {}};
        const std::size_t after = line.rfind(')');
        if (after == std::string::npos) continue;
        char state = 0;
        pid_t its_parent = 0;
        std::istringstream(line.substr(after + 1)) >> state >> its_parent;
        if (its_parent == parent) children.push_back(std::stoi(name));
    }
    return children;
}

template <class Condition> bool soon(Condition&& condition) {
    for (const auto end = Clock::now() + milliseconds(5000); Clock::now() < end;
         std::this_thread::sleep_for(milliseconds(5)))
        if (condition()) return true;
    return condition();
}

/// Stops this program's worker in its tracks when it first says how far it is: from then on nothing comes from it,
/// however quick or busy the machine is.
Progress::Report stopping_the_worker() {
    return [](double, std::string_view) {
        for (const pid_t worker : children_of(children_of(::getpid()).at(0)))
            ::kill(worker, SIGSTOP);
    };
}

/// A program of its own with a reader of its own; `body` gets the reader and returns whether all is well.
template <class Body> bool in_a_program(Body&& body) {
    const pid_t program = ::fork();
    if (program == 0) {
        bool well = false;
        try {
            auto started = part::Reader::start();
            well = started && body(**started);
        } catch (const std::exception&) { // must not get back into the test that forked
        }
        ::_exit(well ? 0 : 1);
    }
    int status = 1;
    ::waitpid(program, &status, 0);
    return WIFEXITED(status) && WEXITSTATUS(status) == 0;
}

TEST(ReaderProcess, SeveralThreadsReadAtOnce) {
    std::atomic<int> right = 0;
    std::vector<std::thread> threads;
    for (int i = 0; i < 6; ++i)
        threads.emplace_back([&, i] {
            const char* names[] = {"step_boundary_colors.stp", "io1-cm-214.stp", "cube-mm.step"};
            const std::size_t faces[] = {6, 29, 6};
            const auto part = reader().read(open_part(names[i % 3]), Progress());
            right += part && (*part)->faces().size() == faces[i % 3];
        });
    for (std::thread& thread : threads)
        thread.join();
    EXPECT_EQ(right, 6);
}

TEST(ReaderProcess, LeavesNoDescriptorAndNoProcessBehind) {
    const Folder folder;
    const auto bad = folder.write("bad.stp", without(open_text("step_boundary_colors.stp"), "CARTESIAN_POINT"));
    (void)read_part(open_part("cube-mm.step"));
    const std::size_t before = open_descriptors();
    const std::size_t children = children_of(::getpid()).size();
    for (int i = 0; i < 5; ++i) {
        (void)read_part(open_part("cube-mm.step"));
        (void)reader().read(bad, Progress());
    }
    EXPECT_EQ(open_descriptors(), before);
    EXPECT_EQ(children_of(::getpid()).size(), children);
    ASSERT_EQ(children, 1u); // the server
    EXPECT_TRUE(soon([&] { return children_of(children_of(::getpid())[0]).empty(); })) << "a worker lingers";
}

TEST(ReaderProcess, ProgressGoesUpAndNamesTheFile) {
    std::vector<double> fractions;
    std::string text;
    const Progress progress([&](double fraction, std::string_view what) {
        fractions.push_back(fraction);
        text = what;
    });
    ASSERT_TRUE(reader().read(open_part("frame.step"), progress));
    ASSERT_GE(fractions.size(), 2u);
    for (std::size_t i = 0; i < fractions.size(); ++i) {
        EXPECT_LE(fractions[i], 1);
        if (i > 0) {
            EXPECT_GE(fractions[i], fractions[i - 1]);
        }
    }
    EXPECT_THAT(text, testing::HasSubstr("frame.step"));
}

TEST(ReaderProcess, CancellingStopsAtOnceAndKillsTheWorker) {
    Progress progress;
    progress.cancel();
    const auto never = reader().read(open_part("frame.step"), progress);
    ASSERT_FALSE(never);
    EXPECT_EQ(never.error().code, cancelled_code);

    Progress later(stopping_the_worker());
    std::thread person([&] {
        std::this_thread::sleep_for(milliseconds(60));
        later.cancel();
    });
    const auto stopped = reader().read(open_part("linkrods.step"), later);
    person.join();
    ASSERT_FALSE(stopped);
    EXPECT_EQ(stopped.error().code, cancelled_code); // waiting for the worker's end would end as "part.timeout"
    EXPECT_TRUE(soon([] { return children_of(children_of(::getpid())[0]).empty(); })) << "a worker lingers";
}

TEST(ReaderProcess, TimeIsLimited) {
    part::ReadLimits limits;
    limits.time = milliseconds(30);
    const auto begin = Clock::now();
    const auto part = reader().read(open_part("linkrods.step"), Progress(), limits);
    ASSERT_FALSE(part);
    EXPECT_EQ(part.error().code, "part.timeout");
    EXPECT_FALSE(part.error().hint.empty());
    EXPECT_LT(Clock::now() - begin, milliseconds(2000));
}

TEST(ReaderProcess, MemoryIsLimited) {
#if defined(__SANITIZE_ADDRESS__)
    GTEST_SKIP() << "the address sanitizer maps terabytes, which no limit of the address space allows";
#endif
    part::ReadLimits limits;
    for (const std::size_t megabytes : {1u, 8u, 30u}) {
        limits.memory_bytes = megabytes << 20;
        const auto part = reader().read(open_part("frame.step"), Progress(), limits);
        ASSERT_FALSE(part) << megabytes;
        EXPECT_EQ(part.error().code, "part.too_large");
        EXPECT_THAT(part.error().message, testing::HasSubstr("frame.step"));
        EXPECT_FALSE(part.error().hint.empty());
    }
    limits.memory_bytes = 500u << 20;
    const auto part = reader().read(open_part("frame.step"), Progress(), limits);
    ASSERT_TRUE(part) << part.error().message;
    EXPECT_EQ((*part)->faces().size(), 375u);
}

TEST(ReaderProcess, ADeadServerIsAnErrorAndNoWait) {
    EXPECT_TRUE(in_a_program([](part::Reader& own) {
        const auto file = open_part("cube-mm.step");
        if (!own.read(file, Progress())) return false;
        ::kill(children_of(::getpid()).at(0), SIGKILL);
        const auto begin = Clock::now();
        const auto part = own.read(file, Progress());
        return !part && part.error().code == "part.crashed" && !part.error().hint.empty() &&
               Clock::now() - begin < milliseconds(2000);
    }));
}

TEST(ReaderProcess, AServerThatDiesDuringReadingIsAnError) {
    EXPECT_TRUE(in_a_program([](part::Reader& own) {
        const pid_t server = children_of(::getpid()).at(0);
        const Progress progress([server](double, std::string_view) { ::kill(server, SIGKILL); });
        const auto part = own.read(open_part("linkrods.step"), progress);
        return !part && part.error().code == "part.crashed";
    }));
}

TEST(ReaderProcess, TheServerEndsWithItsProgramEvenWhenThatIsKilled) {
    int ends[2];
    ASSERT_EQ(::pipe(ends), 0);
    const pid_t program = ::fork();
    if (program == 0) {
        try {
            auto started = part::Reader::start();
            const pid_t server = children_of(::getpid()).at(0);
            if (::write(ends[1], &server, sizeof server) == static_cast<ssize_t>(sizeof server)) ::pause();
        } catch (const std::exception&) {
        }
        ::_exit(1);
    }
    ::close(ends[1]); // so that reading ends should the program die without a word
    pid_t server = 0;
    ASSERT_EQ(::read(ends[0], &server, sizeof server), static_cast<ssize_t>(sizeof server));
    ::kill(program, SIGKILL);
    ::waitpid(program, nullptr, 0);
    const auto gone = [&] { // dead, or a zombie that nobody in this container buries
        std::ifstream stat("/proc/" + std::to_string(server) + "/stat");
        const std::string line{std::istreambuf_iterator<char>(stat), {}};
        return line.empty() || line.find(") Z ") != std::string::npos;
    };
    EXPECT_TRUE(soon(gone));
    ::close(ends[0]);
}

TEST(ReaderProcess, SaysNothingOnTheTerminal) {
    const Folder folder;
    const auto bad =
        folder.write("bad.stp", replaced(open_text("step_boundary_colors.stp"), "'Closed Shell'", "'Closed Shell"));
    testing::internal::CaptureStdout();
    testing::internal::CaptureStderr();
    (void)reader().read(bad, Progress());
    (void)reader().read(open_part("cube-in.step"), Progress());
    EXPECT_EQ(testing::internal::GetCapturedStdout(), "");
    EXPECT_EQ(testing::internal::GetCapturedStderr(), "");
}

} // namespace
} // namespace touchmark::test
