// SPDX-License-Identifier: MIT
#include "tests/app/cli/program.h"

#include "core/base/atomic_file.h"

#include <fcntl.h>
#include <gtest/gtest.h>
#include <stdexcept>
#include <sys/wait.h>
#include <unistd.h>

namespace touchmark::test {
namespace {

namespace fs = std::filesystem;

/// Whoever runs the tests may have profiles of their own; the tests see none but those that they write.
[[maybe_unused]] const int no_data_of_others = ::setenv("XDG_DATA_HOME", "/nonexistent", 1);

void redirect(int to, const fs::path& file) {
    const int from = open(file.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600);
    if (from < 0 || dup2(from, to) < 0) _exit(126);
}

} // namespace

Answer touchmark_cli(const std::vector<std::string>& arguments, const fs::path& folder) {
    static int number = 0;
    const std::string stem = "touchmark-answer-" + std::to_string(getpid()) + "-" + std::to_string(++number);
    const fs::path out = fs::path(testing::TempDir()) / (stem + ".out"),
                   err = fs::path(testing::TempDir()) / (stem + ".err");
    std::string program = TOUCHMARK_BINARY_DIR "/bin/touchmark-cli";
    std::vector<std::string> words = arguments;
    std::vector<char*> argv{program.data()};
    for (std::string& word : words)
        argv.push_back(word.data());
    argv.push_back(nullptr);
    const pid_t child = fork();
    if (child < 0) throw std::runtime_error("cannot fork");
    if (child == 0) {
        if (!folder.empty() && chdir(folder.c_str()) != 0) _exit(126);
        redirect(STDOUT_FILENO, out);
        redirect(STDERR_FILENO, err);
        execv(program.c_str(), argv.data());
        _exit(127);
    }
    int status = 0;
    waitpid(child, &status, 0);
    Answer answer;
    answer.exit = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
    answer.out = read_text(out).value();
    answer.err = read_text(err).value();
    fs::remove(out);
    fs::remove(err);
    return answer;
}

fs::path scratch_folder() {
    const auto* test = testing::UnitTest::GetInstance()->current_test_info();
    const fs::path folder = fs::path(testing::TempDir()) / ("touchmark-" + std::to_string(getpid())) /
                            test->test_suite_name() / test->name();
    fs::remove_all(folder);
    fs::create_directories(folder);
    return folder;
}

std::string demo_part() {
    return fs::path(TOUCHMARK_RESOURCES) / "demo" / "sensor-bracket.step";
}

} // namespace touchmark::test
