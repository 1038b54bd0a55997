// SPDX-License-Identifier: MIT
#include "core/base/atomic_file.h"
#include "tests/support/scratch_folder.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <chrono>
#include <csignal>
#include <fstream>
#include <random>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>

namespace touchmark {
namespace {

namespace fs = std::filesystem;
using test::ScratchFolder;
using testing::ElementsAre;

void put(const fs::path& file, std::string_view text) {
    std::ofstream(file, std::ios::binary) << text;
}

TEST(WriteAtomically, MakesANewFileWithTheUsualPermissions) {
    const ScratchFolder folder;
    const fs::path file = folder / "new.txt";
    const mode_t mask = ::umask(0027);
    ASSERT_TRUE(write_text_atomically(file, "fresh"));
    ::umask(mask);
    EXPECT_EQ(*read_text(file), "fresh");
    EXPECT_EQ(fs::status(file).permissions(), fs::perms(0640)); // POSIX: 0666 without the bits of the mask
    EXPECT_THAT(folder.names(), ElementsAre("new.txt"));
}

TEST(WriteAtomically, KeepsThePermissionsOfTheOldFile) {
    const ScratchFolder folder;
    const fs::path file = folder / "shared.txt";
    put(file, "old");
    fs::permissions(file, fs::perms(0664));
    ASSERT_TRUE(write_text_atomically(file, "new"));
    EXPECT_EQ(*read_text(file), "new");
    EXPECT_EQ(fs::status(file).permissions(), fs::perms(0664));
}

TEST(WriteAtomically, WritesThroughALink) {
    const ScratchFolder folder;
    fs::create_directory(folder / "store");
    put(folder / "store/real.txt", "old");
    fs::create_symlink("store/real.txt", folder / "link.txt");
    ASSERT_TRUE(write_text_atomically(folder / "link.txt", "new"));
    EXPECT_TRUE(fs::is_symlink(folder / "link.txt"));
    EXPECT_EQ(*read_text(folder / "store/real.txt"), "new");
}

TEST(WriteAtomically, RefusesALinkThatLeadsNowhere) {
    const ScratchFolder folder;
    fs::create_symlink("nowhere", folder / "link.txt");
    EXPECT_EQ(write_text_atomically(folder / "link.txt", "new").error().code, "file.not_writable");
    EXPECT_TRUE(fs::is_symlink(folder / "link.txt"));
}

TEST(WriteAtomically, RefusesAFolderAndAMissingFolder) {
    const ScratchFolder folder;
    EXPECT_EQ(write_text_atomically(folder.path(), "new").error().code, "file.not_writable");
    EXPECT_EQ(write_text_atomically(folder / "missing/file", "new").error().code, "file.not_writable");
    EXPECT_TRUE(folder.names().empty());
}

/// Root may write anywhere; for a while this is somebody else.
class Nobody {
public:
    Nobody() : was_(::geteuid()) {
        if (was_ == 0 && ::seteuid(65534) != 0) throw std::runtime_error("cannot become nobody");
    }
    ~Nobody() {
        if (was_ == 0 && ::seteuid(0) != 0) std::abort();
    }

private:
    uid_t was_;
};

TEST(WriteAtomically, SaysWhyAFolderCannotBeWrittenTo) {
    const ScratchFolder folder;
    put(folder / "file.txt", "old");
    fs::permissions(folder.path(), fs::perms(0555));
    Status status;
    {
        const Nobody nobody;
        status = write_text_atomically(folder / "file.txt", "new");
    }
    ASSERT_FALSE(status);
    EXPECT_EQ(status.error().code, "file.not_writable");
    EXPECT_THAT(status.error().message, testing::HasSubstr("Permission denied"));
    EXPECT_FALSE(status.error().hint.empty());
    EXPECT_EQ(*read_text(folder / "file.txt"), "old");
}

TEST(WriteAtomically, KeepsTheOldFileWhenWritingOrVerifyingFails) {
    const ScratchFolder folder;
    const fs::path file = folder / "file.txt";
    put(file, "old");
    const auto half = [](const fs::path& temporary) -> Status {
        put(temporary, "ha");
        return fail("test.half", "Half.");
    };
    const auto whole = [](const fs::path& temporary) -> Status {
        put(temporary, "new");
        return {};
    };
    const auto wrong = [](const fs::path&) -> Status { return fail("test.wrong", "Wrong."); };
    EXPECT_EQ(write_atomically(file, half).error().code, "test.half");
    EXPECT_EQ(write_atomically(file, whole, wrong).error().code, "test.wrong");
    EXPECT_THROW((void)write_atomically(file, [](const fs::path&) -> Status { throw std::runtime_error("thrown"); }),
                 std::runtime_error);
    EXPECT_EQ(*read_text(file), "old");
    EXPECT_THAT(folder.names(), ElementsAre("file.txt"));
}

TEST(WriteAtomically, ShowsVerifyWhatWillBeTheFile) {
    const ScratchFolder folder;
    const fs::path file = folder / "file.step";
    std::string seen;
    ASSERT_TRUE(write_atomically(
        file,
        [](const fs::path& temporary) -> Status {
            put(temporary, "new");
            return {};
        },
        [&](const fs::path& temporary) -> Status {
            EXPECT_EQ(temporary.parent_path(), file.parent_path());
            EXPECT_EQ(temporary.extension(), ".step");
            EXPECT_FALSE(fs::exists(file));
            seen = *read_text(temporary);
            return {};
        }));
    EXPECT_EQ(seen, "new");
}

TEST(WriteAtomically, AFullDiskKeepsTheOldFile) {
    const ScratchFolder folder;
    const fs::path file = folder / "file.txt";
    put(file, "old");
    // No file may grow beyond 64 kB: writing then fails as on a full disk.
    rlimit before{};
    ASSERT_EQ(::getrlimit(RLIMIT_FSIZE, &before), 0);
    const rlimit small{64 << 10, before.rlim_max};
    const auto handler = std::signal(SIGXFSZ, SIG_IGN);
    ASSERT_EQ(::setrlimit(RLIMIT_FSIZE, &small), 0);
    const Status status = write_text_atomically(file, std::string(1 << 20, 'x'));
    ::setrlimit(RLIMIT_FSIZE, &before);
    std::signal(SIGXFSZ, handler);
    ASSERT_FALSE(status);
    EXPECT_EQ(status.error().code, "file.not_writable");
    EXPECT_EQ(*read_text(file), "old");
    EXPECT_THAT(folder.names(), ElementsAre("file.txt"));
}

/// What writer number n writes: long enough to take several pieces, every byte telling whose it is.
std::string content(int n) {
    return std::string(60'000 + 1000 * (n % 7), static_cast<char>('a' + n % 26));
}

[[noreturn]] void write_for_ever(const fs::path& file) {
    for (int n = 0;; ++n) {
        const std::string text = content(n);
        const auto slowly = [&](const fs::path& temporary) -> Status {
            std::ofstream stream(temporary, std::ios::binary);
            for (std::size_t i = 0; i < text.size(); i += 4096)
                stream << std::string_view(text).substr(i, 4096) << std::flush;
            return {};
        };
        (void)write_atomically(file, slowly);
    }
}

TEST(WriteAtomically, AKillAtAnyMomentLeavesOneWholeFile) {
    const ScratchFolder folder;
    const fs::path file = folder / "file.txt";
    put(file, content(0));
    std::mt19937 random(29);
    std::uniform_int_distribution<int> microseconds(0, 8000);
    int unfinished = 0;
    for (int kill = 0; kill < 80; ++kill) {
        int ready[2];
        ASSERT_EQ(::pipe(ready), 0);
        const pid_t child = ::fork();
        ASSERT_GE(child, 0);
        if (child == 0) {
            (void)!::write(ready[1], "!", 1);
            write_for_ever(file);
        }
        char started = 0;
        ASSERT_EQ(::read(ready[0], &started, 1), 1);
        ::close(ready[0]), ::close(ready[1]);
        std::this_thread::sleep_for(std::chrono::microseconds(microseconds(random)));
        ::kill(child, SIGKILL);
        int status = 0;
        ::waitpid(child, &status, 0);
        ASSERT_TRUE(WIFSIGNALED(status));
        const std::string text = *read_text(file);
        ASSERT_FALSE(text.empty());
        const int n = text[0] - 'a';
        const bool whole = text.find_first_not_of(text[0]) == std::string::npos && text.size() >= 60'000 &&
                           (text.size() - 60'000) % 1000 == 0 && text.size() <= 66'000;
        ASSERT_TRUE(whole && n >= 0 && n < 26) << "kill " << kill << " left " << text.size() << " bytes";
        for (const std::string& name : folder.names())
            if (name != "file.txt") {
                ++unfinished; // the kill fell into a write, not between two
                fs::remove(folder / name);
            }
    }
    EXPECT_GT(unfinished, 10);
}

TEST(ReadText, SaysWhatIsWrong) {
    const ScratchFolder folder;
    put(folder / "file.txt", "12345");
    EXPECT_EQ(*read_text(folder / "file.txt", 5), "12345");
    EXPECT_EQ(read_text(folder / "file.txt", 4).error().code, "file.too_large");
    EXPECT_EQ(read_text(folder / "none").error().code, "file.not_found");
    EXPECT_EQ(read_text(folder.path()).error().code, "file.not_readable");
    fs::permissions(folder.path(), fs::perms(0755));
    fs::permissions(folder / "file.txt", fs::perms(0));
    const Nobody nobody;
    EXPECT_EQ(read_text(folder / "file.txt").error().code, "file.not_readable");
}

} // namespace
} // namespace touchmark
