// SPDX-License-Identifier: MIT
#include "core/content/code.h"

#include "tests/core/content/lettering.h"
#include "tests/support/outline_raster.h"
#include "tests/support/scratch_folder.h"

#include <gtest/gtest.h>

#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <nlohmann/json.hpp>

namespace touchmark::content {
namespace {

/// Read by a ZXing-C++ that knows Micro QR (npm package zxing-wasm, run by node), from the outline itself: Debian's
/// does not, nor do libdmtx and libzbar.
std::vector<nlohmann::json> read_all(const std::vector<Code>& codes) {
    const char* folder = std::getenv("TOUCHMARK_CODE_READER");
    if (!folder) throw std::runtime_error("TOUCHMARK_CODE_READER is not set: run the tests through ./tests/run");
    const test::ScratchFolder scratch;
    std::string command =
        "node '" TOUCHMARK_SOURCE_DIR "/tests/support/read_code.mjs' '" + std::string(folder) + "' MicroQRCode";
    for (std::size_t i = 0; i < codes.size(); ++i) {
        const auto drawn = draw_code(codes[i], test::fonts());
        EXPECT_TRUE(drawn) << (drawn ? "" : drawn.error().message);
        if (!drawn) continue;
        test::Picture picture = test::picture_of(drawn->outline, drawn->extent, 6 / codes[i].module.value);
        if (codes[i].light_is_mark) picture = test::inverted(std::move(picture));
        const auto file = scratch / (std::to_string(i) + ".pgm");
        std::ofstream out(file, std::ios::binary);
        out << "P5\n" << picture.width << ' ' << picture.height << "\n255\n";
        out.write(reinterpret_cast<const char*>(picture.pixels.data()),
                  static_cast<std::streamsize>(picture.pixels.size()));
        command += " '" + file.string() + "'";
    }
    std::vector<nlohmann::json> answers;
    if (FILE* pipe = ::popen(command.c_str(), "r")) {
        char buffer[4096];
        while (std::fgets(buffer, sizeof buffer, pipe))
            answers.push_back(nlohmann::json::parse(buffer));
        ::pclose(pipe);
    }
    return answers;
}

TEST(MicroQr, EveryVersionAndLevelIsReadBack) {
    // The levels that each version has: ISO/IEC 18004, table 7. M1 holds digits alone and only detects errors.
    struct Row {
        int version, most_level;
        std::vector<std::string> messages;
    };
    const Row rows[] = {{1, 0, {"7", "48151"}},
                        {2, 1, {"2207", "AB-7", "0"}},
                        {3, 1, {"NW-2207", "rev c", "123456789012345"}},
                        {4, 2, {"NW-2207 A", "Lot 48 b", "12345678901234567890"}}};
    std::vector<Code> codes;
    for (const Row& row : rows)
        for (int level = 0; level <= row.most_level; ++level)
            for (const std::string& message : row.messages)
                for (const bool reverse : {false, true})
                    codes.push_back({.symbology = Symbology::micro_qr,
                                     .message = message,
                                     .version = row.version,
                                     .level = static_cast<CorrectionLevel>(level),
                                     .light_is_mark = reverse});
    const auto answers = read_all(codes);
    ASSERT_EQ(answers.size(), codes.size());
    EXPECT_GE(codes.size(), 40u);
    for (std::size_t i = 0; i < codes.size(); ++i) {
        ASSERT_FALSE(answers[i].is_null()) << "version " << codes[i].version << ": " << codes[i].message;
        EXPECT_EQ(answers[i]["text"], codes[i].message);
        EXPECT_EQ(answers[i]["version"], "M" + std::to_string(codes[i].version)); // ISO/IEC 18004: M1 to M4
    }
}

} // namespace
} // namespace touchmark::content
