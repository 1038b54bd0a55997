// SPDX-License-Identifier: MIT
#include "core/print/text_reading.h"

#include "core/base/temporary_file.h"
#include "core/content/utf8.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <fcntl.h>
#include <filesystem>
#include <fstream>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

extern char** environ; // NOLINT: POSIX asks for it

namespace touchmark::print {
namespace {

constexpr double capital_pixels = 36; // what such programs are trained on is about as high
constexpr const char* reader = "tesseract";

Error no_reader() {
    return {"print.no_text_reader", "Lettering is read by the program tesseract, which is not to be found.",
            "Install the package tesseract-ocr, or go by the letters' figures."};
}

/// What the program says when it runs to its end; nullopt when it cannot be started or fails.
std::optional<std::string> said_by(std::vector<std::string> words) {
    std::array<int, 2> pipe{};
    if (::pipe2(pipe.data(), O_CLOEXEC) != 0) return std::nullopt; // no other child holds it open
    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    posix_spawn_file_actions_adddup2(&actions, pipe[1], STDOUT_FILENO);
    posix_spawn_file_actions_addopen(&actions, STDERR_FILENO, "/dev/null", O_WRONLY, 0);
    std::vector<char*> arguments;
    for (std::string& word : words)
        arguments.push_back(word.data());
    arguments.push_back(nullptr);
    pid_t child = 0;
    const bool started = posix_spawnp(&child, arguments[0], &actions, nullptr, arguments.data(), environ) == 0;
    posix_spawn_file_actions_destroy(&actions);
    close(pipe[1]);
    std::string out;
    std::array<char, 4096> block{};
    for (ssize_t got = 0; started && (got = read(pipe[0], block.data(), block.size())) > 0;)
        out.append(block.data(), static_cast<std::size_t>(got));
    close(pipe[0]);
    int status = 1;
    if (!started || waitpid(child, &status, 0) != child || !WIFEXITED(status) || WEXITSTATUS(status) != 0)
        return std::nullopt;
    return out;
}

/// Portable grey map, P5.
Status save(const Brightness& picture, bool inverted, const std::filesystem::path& file) {
    std::ofstream out(file, std::ios::binary);
    out << "P5 " << picture.width << ' ' << picture.height << " 255\n";
    for (const float value : picture.values) {
        const auto level = std::lround(255 * std::clamp(value, 0.0F, 1.0F));
        out.put(static_cast<char>(inverted ? 255 - level : level));
    }
    if (!out.flush()) return fail("file.write", "The file " + file.string() + " could not be written.");
    return {};
}

double usual_height(const PrintedMark& mark) {
    std::vector<double> heights;
    for (const PrintedPiece& piece : mark.pieces)
        heights.push_back(piece.box.height());
    const auto middle = heights.begin() + static_cast<std::ptrdiff_t>(heights.size() / 2);
    std::ranges::nth_element(heights, middle);
    return std::max(0.1, *middle);
}

bool is_space(char32_t c) {
    return c == U' ' || c == U'\n' || c == U'\r' || c == U'\t' || c == U'\f' || c == U'\u00a0';
}

std::u32string without_spaces(std::string_view utf8) {
    std::u32string text = content::decode_utf8(utf8).value_or(std::u32string());
    std::erase_if(text, is_space);
    return text;
}

} // namespace

std::size_t TextReading::wrong() const {
    return static_cast<std::size_t>(std::ranges::count(right, std::uint8_t{0}));
}

bool can_read_text() {
    static const bool found = said_by({reader, "--version"}).has_value();
    return found;
}

TextReading compared(std::span<const std::string> pieces, std::string_view read, Lighting lighting) {
    std::u32string wanted;
    std::vector<std::size_t> piece_of;
    for (std::size_t i = 0; i < pieces.size(); ++i)
        for (const char32_t c : without_spaces(pieces[i])) {
            wanted += c;
            piece_of.push_back(i);
        }
    const std::u32string got = without_spaces(read);
    // Of the first i wanted and the first k got, the fewest differences.
    const std::size_t wide = got.size() + 1;
    std::vector<std::size_t> cost((wanted.size() + 1) * wide);
    for (std::size_t i = 0; i <= wanted.size(); ++i)
        for (std::size_t k = 0; k < wide; ++k) {
            std::size_t& least = cost[i * wide + k];
            least = i == 0 ? k : cost[(i - 1) * wide + k] + 1;
            if (i > 0 && k > 0)
                least = std::min(
                    {least, cost[i * wide + k - 1] + 1, cost[(i - 1) * wide + k - 1] + (wanted[i - 1] != got[k - 1])});
        }
    TextReading out{lighting, content::encode_utf8(got), std::vector<std::uint8_t>(pieces.size(), 1),
                    std::vector<std::string>(pieces.size())};
    for (std::size_t i = wanted.size(), k = got.size(); i > 0;) {
        const std::size_t piece = piece_of[i - 1], here = cost[i * wide + k];
        if (k > 0 && here == cost[(i - 1) * wide + k - 1] + (wanted[i - 1] != got[k - 1])) {
            if (wanted[--i] != got[--k]) {
                out.right[piece] = 0;
                out.instead[piece] = content::encode_utf8(std::u32string(1, got[k])) + out.instead[piece];
            }
        } else if (k > 0 && here == cost[i * wide + k - 1] + 1) {
            --k; // read where there is nothing
        } else {
            out.right[piece] = 0;
            --i;
        }
    }
    return out;
}

Result<TextReading> read_text(const PrintedMark& mark, const Progress& progress) {
    if (mark.pieces.empty()) return fail("print.no_text", "The mark has no lettering.");
    if (!can_read_text()) return std::unexpected(no_reader());
    const TemporaryFile file;
    if (file.path().empty()) return fail("file.write", "There is no place for a temporary file.");
    std::vector<std::string> labels;
    Box2 box;
    for (const PrintedPiece& piece : mark.pieces) {
        labels.push_back(piece.label);
        box.add(piece.box);
    }
    const double height = usual_height(mark);
    const Vec2 rim = Vec2{1, 1} * (height / 2);
    Appearance looks(mark.printed, mark.light ? &*mark.light : nullptr, {box.low - rim, box.high + rim},
                     capital_pixels / height);
    std::optional<TextReading> best;
    for (const Lighting lighting : lightings(mark.standing.mode)) {
        const auto picture = looks.in(lighting, progress);
        if (!picture) return std::unexpected(picture.error());
        for (const bool inverted : {false, true}) {
            if (progress.cancelled()) return fail(std::string(cancelled_code), "Cancelled.");
            if (const Status saved = save(*picture, inverted, file.path()); !saved)
                return std::unexpected(saved.error());
            const auto said = said_by({reader, file.path().string(), "stdout", "--psm", "6", "-l", "eng"});
            if (!said) return std::unexpected(no_reader());
            TextReading reading = compared(labels, *said, lighting);
            if (!best || reading.wrong() < best->wrong()) best = std::move(reading);
            if (best->wrong() == 0) return *std::move(best);
        }
    }
    return *std::move(best);
}

} // namespace touchmark::print
