// SPDX-License-Identifier: MIT
#include "core/print/modules.h"

#include "core/content/code.h"
#include "tests/core/print/bench_process.h"

#include <gtest/gtest.h>

namespace touchmark::print {
namespace {

struct Coded {
    content::Symbol symbol;
    content::Drawn drawn;
    double module;
};

Coded coded(content::Symbology symbology, double module) {
    static const auto fonts = content::FontLibrary::system().value();
    content::Code code;
    code.symbology = symbology;
    code.message = "TM-4711/0815";
    code.module = Mm(module);
    return {content::encode(code).value(), content::draw(code, *fonts).value(), module};
}

ModuleCount counted(const Coded& code, const Standing& standing) {
    const auto out = simulate(code.drawn.outline, standing, profile(), Progress()).value();
    return count_modules(out, code.symbol.modules, {code.module, code.module});
}

TEST(Modules, AreAllRightWhereTheyAreTwiceALine) {
    for (const auto symbology : {content::Symbology::data_matrix, content::Symbology::qr}) {
        EXPECT_EQ(counted(coded(symbology, 0.8), {}).wrong, 0);
        EXPECT_EQ(counted(coded(symbology, 0.6), {.zone = Zone::top}).wrong, 0);
        EXPECT_EQ(counted(coded(symbology, 0.8), {.zone = Zone::bottom}).wrong, 0);
    }
}

TEST(Modules, AreWrongWhereTheyAreHalfALine) {
    for (const auto symbology : {content::Symbology::data_matrix, content::Symbology::qr})
        for (const Zone zone : {Zone::side_wall, Zone::top, Zone::bottom}) {
            const ModuleCount count = counted(coded(symbology, 0.2), {.zone = zone});
            EXPECT_GT(count.share(), bearable_share(symbology, content::CorrectionLevel::medium));
            EXPECT_LE(count.least_margin, 0);
        }
}

TEST(Modules, OfAMarkThatIsNotThereAreWrongWhereTheyAreDark) {
    const Coded code = coded(content::Symbology::data_matrix, 1);
    auto out = simulate(code.drawn.outline, {}, profile(), Progress()).value();
    std::ranges::fill(out.relief.values, 0.0F);
    int dark = 0;
    for (const auto module : code.symbol.modules.set)
        dark += module;
    EXPECT_EQ(count_modules(out, code.symbol.modules, {1, 1}).wrong, dark);
    EXPECT_EQ(count_modules(out, code.symbol.modules, {1, 1}).modules,
              code.symbol.modules.columns * code.symbol.modules.rows);
}

TEST(Modules, AreFoundHoweverTheLayersRun) {
    const Coded code = coded(content::Symbology::qr, 1);
    for (const Vec2 up : {Vec2{1, 0}, Vec2{0, -1}, Vec2{0.6, 0.8}})
        EXPECT_EQ(counted(code, {.up = up}).wrong, 0);
}

TEST(Modules, OfGroovesAreCountedAsWholes) {
    const auto fonts = content::FontLibrary::system().value();
    const content::Code code{.message = "TM-4711/0815", .module = Mm(2), .grooves = 2};
    const auto drawn = content::draw(code, *fonts).value();
    const auto modules = content::marked_modules(code, drawn).value();
    const auto out = simulate(drawn.outline, {}, profile(), Progress()).value();
    const ModuleCount count = count_modules(out, modules.grid, modules.size, modules.centre, modules.filled);
    EXPECT_EQ(count.wrong, 0);
    EXPECT_GT(count.least_margin, 0.3);
    // As if the whole module had to be deep, every marked one would be on the brink.
    EXPECT_LT(count_modules(out, modules.grid, modules.size, modules.centre, 1).least_margin, 0.5);
}

} // namespace
} // namespace touchmark::print
