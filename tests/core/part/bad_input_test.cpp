// SPDX-License-Identifier: MIT

// Files that cannot be opened, made from the open set or from nothing. Each must end in an Error that names the file
// and says what to do, within the 20 seconds that a person is asked to wait, and leave the reader ready for the next.

#include "tests/core/part/derived_files.h"
#include "tests/support/open_parts.h"
#include "tests/support/reader.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <chrono>
#include <functional>
#include <ostream>
#include <random>
#include <sys/stat.h>
#include <unistd.h>

namespace touchmark::test {
namespace {

using testing::AnyOf;
using testing::HasSubstr;

/// A cube of 100 mm with coloured faces, in 225 short lines.
std::string cube() {
    return open_text("step_boundary_colors.stp");
}

std::string noise(std::size_t size, std::string start = {}) {
    std::mt19937 random(20240517);
    while (start.size() < size)
        start += static_cast<char>(random() & 0xff);
    return start;
}

/// An entity of the cube put in another's place.
std::string with_entity(const std::string& id, const std::string& entity) {
    return rewritten(cube(), "#" + id + "=[^;]*;", "#" + id + "=" + entity + ";");
}

struct Bad {
    std::string name;
    std::function<std::string()> bytes;
    std::vector<std::string> codes; ///< any of them

    friend void PrintTo(const Bad& bad, std::ostream* out) { *out << bad.name; }
};

std::vector<Bad> not_step_at_all() {
    return {
        {"empty", [] { return std::string(); }, {"part.empty"}},
        {"one_byte", [] { return std::string("x"); }, {"part.not_step"}},
        {"zeros", [] { return std::string(4096, '\0'); }, {"part.not_step"}},
        {"spaces", [] { return std::string(4096, ' '); }, {"part.not_step", "part.truncated"}},
        {"noise", [] { return noise(50'000); }, {"part.not_step"}},
        {"jpeg", [] { return noise(20'000, "\xFF\xD8\xFF\xE0\x10JFIF"); }, {"part.not_step"}},
        {"brep", [] { return open_text("bottle.brep").substr(0, 40'000); }, {"part.not_step"}},
        {"html", [] { return std::string("<!DOCTYPE html><html><body>404</body></html>"); }, {"part.not_step"}},
        {"step_word_then_noise", [] { return noise(20'000, "ISO-10303-21;"); }, {"part.truncated"}},
        {"utf16",
         [] {
             std::string wide = "\xFF\xFE";
             for (const char c : cube())
                 wide += {c, '\0'};
             return wide;
         },
         {"part.not_step"}},
    };
}

std::vector<Bad> cut_short() {
    std::vector<Bad> out;
    for (const int percent : {1, 10, 25, 50, 75, 90, 99})
        out.push_back({"cut_at_" + std::to_string(percent),
                       [percent] {
                           const std::string text = open_text("as1-oc-214.stp");
                           return text.substr(0, text.size() * static_cast<std::size_t>(percent) / 100);
                       },
                       {"part.truncated"}});
    out.push_back({"cut_in_the_first_line", [] { return cube().substr(0, 7); }, {"part.truncated"}});
    out.push_back({"cut_by_40_bytes", [] { return cube().substr(0, cube().size() - 40); }, {"part.truncated"}});
    out.push_back({"without_end", [] { return replaced(cube(), "END-ISO-10303-21;", ""); }, {"part.truncated"}});
    return out;
}

std::vector<Bad> broken_text() {
    return {
        {"data_empty", [] { return rewritten(cube(), "DATA;[^]*ENDSEC;", "DATA;\nENDSEC;"); }, {"part.empty"}},
        {"data_absent", [] { return rewritten(cube(), "DATA;[^]*ENDSEC;", ""); }, {"part.empty"}},
        {"header_absent", [] { return replaced(cube(), "HEADER;", ""); }, {"part.bad_geometry"}},
        {"string_unclosed", [] { return replaced(cube(), "'Closed Shell'", "'Closed Shell"); }, {"part.bad_geometry"}},
        {"comment_unclosed", [] { return replaced(cube(), "#30=", "/* #30="); }, {"part.bad_geometry"}},
        {"bracket_unclosed", [] { return replaced(cube(), "(#70,#109", "((#70,#109"); }, {"part.bad_geometry"}},
        {"brackets_200000_deep",
         [] { return replaced(cube(), "(#70,#109", std::string(200'000, '(') + "#70,#109"); },
         {"part.bad_geometry", "part.crashed"}},
        {"brackets_200000_deep_and_closed",
         [] { return replaced(cube(), "(#70,", std::string(200'000, '(') + "#70" + std::string(200'000, ')') + ",("); },
         {"part.bad_geometry", "part.crashed"}},
        {"unknown_entities", [] { return replaced_all(cube(), "ADVANCED_FACE", "FANCY_FACE"); }, {"part.bad_geometry"}},
        {"too_many_arguments",
         [] { return replaced_all(cube(), "ADVANCED_FACE(", "ADVANCED_FACE(1,2,"); },
         {"part.bad_geometry"}},
    };
}

std::vector<Bad> broken_numbers() {
    std::vector<Bad> out;
    for (const auto& [name, number] : std::vector<std::pair<std::string, std::string>>{{"nan", "NaN"},
                                                                                       {"minus_nan_ind", "-nan(ind)"},
                                                                                       {"ind", "-1.#IND"},
                                                                                       {"inf", "inf"},
                                                                                       {"infinity", "-Infinity"},
                                                                                       {"overflow", "1.E999"},
                                                                                       {"nearly_overflow", "5.E307"}})
        out.push_back(
            {"number_" + name, [number] { return replaced(cube(), "50.,", number + ","); }, {"part.bad_geometry"}});
    return out;
}

std::vector<Bad> broken_geometry() {
    return {
        {"point_of_two", [] { return with_entity("40", "CARTESIAN_POINT('',(1.,2.))"); }, {"part.bad_geometry"}},
        {"point_of_one",
         [] { return with_entity("40", "CARTESIAN_POINT('',(1.))"); },
         {"part.crashed", "part.bad_geometry", "part.no_solid"}},
        {"point_of_none",
         [] { return with_entity("40", "CARTESIAN_POINT('',())"); },
         {"part.crashed", "part.bad_geometry", "part.no_solid"}},
        {"line_through_a_point_of_two",
         [] { return with_entity("36", "CARTESIAN_POINT('',(1.,2.))"); },
         {"part.no_solid", "part.crashed", "part.bad_geometry"}},
        {"direction_of_two", [] { return with_entity("32", "DIRECTION('',(1.,0.))"); }, {"part.bad_geometry"}},
        {"directions_of_zero",
         [] { return rewritten(cube(), "DIRECTION\\(('[^']*'),\\([^)]*\\)", "DIRECTION($1,(0.,0.,0.)"); },
         {"part.no_solid", "part.bad_geometry"}},
        {"points_all_alike",
         [] { return rewritten(cube(), "CARTESIAN_POINT\\(('[^']*'),\\([^)]*\\)", "CARTESIAN_POINT($1,(1.,1.,1.)"); },
         {"part.no_solid", "part.bad_geometry"}},
        {"axis_is_its_own_axis",
         [] { return with_entity("34", "AXIS2_PLACEMENT_3D('',#34,#34,#34)"); },
         {"part.crashed", "part.bad_geometry", "part.no_solid"}},
        {"shell_in_itself",
         [] { return replaced(cube(), "'Closed Shell',(#70", "'Closed Shell',(#30"); },
         {"part.no_solid", "part.bad_geometry"}},
        {"axis_is_a_plane",
         [] { return with_entity("34", "PLANE('',#34)"); },
         {"part.no_solid", "part.bad_geometry", "part.crashed"}},
        {"id_of_23_digits",
         [] { return replaced_all(cube(), "#34", "#99999999999999999999999"); },
         {"part.no_solid", "part.bad_geometry", "part.crashed"}},
        {"radius_negative",
         [] {
             return rewritten(open_text("io1-cm-214.stp"), "CYLINDRICAL_SURFACE\\(('[^']*',#[0-9]+,)[^)]*\\)",
                              "CYLINDRICAL_SURFACE($1-7.)");
         },
         {"part.no_solid", "part.bad_geometry"}},
        {"circles_negative",
         [] { return rewritten(open_text("io1-cm-214.stp"), "CIRCLE\\(('[^']*',#[0-9]+,)[^)]*\\)", "CIRCLE($1-7.)"); },
         {"part.no_solid", "part.bad_geometry"}},
        {"degree_of_two_billion",
         [] {
             return rewritten(open_text("dm1-id-214.stp"), "(B_SPLINE_SURFACE|B_SPLINE_CURVE)\\([0-9]+,",
                              "$1(2000000000,");
         },
         {"part.no_solid", "part.bad_geometry", "part.too_large", "part.crashed"}},
        {"knots_of_two_billion",
         [] {
             return rewritten(open_text("io1-tu-203.stp"), "_WITH_KNOTS *\\(\\([0-9]+,[0-9]+\\)",
                              "_WITH_KNOTS((2000000000,2000000000)");
         },
         {"part.no_solid", "part.bad_geometry", "part.too_large", "part.crashed"}},
    };
}

std::vector<Bad> incomplete_geometry() {
    return {
        {"points_missing", [] { return without(cube(), "CARTESIAN_POINT"); }, {"part.crashed", "part.bad_geometry"}},
        {"directions_missing", [] { return without(cube(), "DIRECTION"); }, {"part.crashed", "part.bad_geometry"}},
        {"edges_missing", [] { return without(cube(), "EDGE_CURVE"); }, {"part.bad_geometry", "part.no_solid"}},
        {"shell_missing", [] { return without(cube(), "CLOSED_SHELL"); }, {"part.bad_geometry"}},
        {"solid_missing", [] { return without(cube(), "MANIFOLD_SOLID_BREP"); }, {"part.bad_geometry"}},
        {"face_missing", [] { return replaced(cube(), "(#70,#109,", "(#109,"); }, {"part.no_solid"}},
        {"surfaces_only",
         [] {
             return replaced(
                 replaced(cube(), "MANIFOLD_SOLID_BREP('PartBody',#30)", "SHELL_BASED_SURFACE_MODEL('PartBody',(#30))"),
                 "ADVANCED_BREP_SHAPE_REPRESENTATION", "MANIFOLD_SURFACE_SHAPE_REPRESENTATION");
         },
         {"part.no_solid"}},
        {"wireframe_only",
         [] {
             return replaced(
                 replaced(cube(), "MANIFOLD_SOLID_BREP('PartBody',#30)", "GEOMETRIC_CURVE_SET('PartBody',(#40))"),
                 "ADVANCED_BREP_SHAPE_REPRESENTATION", "GEOMETRICALLY_BOUNDED_WIREFRAME_SHAPE_REPRESENTATION");
         },
         {"part.no_solid", "part.bad_geometry"}},
    };
}

std::vector<Bad> all_bad() {
    std::vector<Bad> all;
    for (auto&& some :
         {not_step_at_all(), cut_short(), broken_text(), broken_numbers(), broken_geometry(), incomplete_geometry()})
        all.insert(all.end(), some.begin(), some.end());
    return all;
}

Error error_of(const std::filesystem::path& file) {
    const auto begin = std::chrono::steady_clock::now();
    const auto part = reader().read(file, Progress());
    EXPECT_LT(std::chrono::steady_clock::now() - begin, std::chrono::seconds(20));
    if (part) {
        ADD_FAILURE() << file << " opened with " << (*part)->faces().size() << " faces";
        return {};
    }
    EXPECT_THAT(part.error().message, HasSubstr(file.filename().string()));
    EXPECT_THAT(part.error().message, testing::EndsWith("."));
    EXPECT_FALSE(part.error().hint.empty()) << part.error().message;
    return part.error();
}

class BadInput : public testing::TestWithParam<Bad> {};

TEST_P(BadInput, EndsInAnErrorThatNamesItAndHelps) {
    const Folder folder;
    const Error error = error_of(folder.write(GetParam().name + ".stp", GetParam().bytes()));
    EXPECT_THAT(GetParam().codes, testing::Contains(error.code)) << error.message;
}

INSTANTIATE_TEST_SUITE_P(Files, BadInput, testing::ValuesIn(all_bad()), [](const auto& bad) { return bad.param.name; });

TEST(BadInput, CountsAtLeastFortyKinds) {
    EXPECT_GE(all_bad().size(), 40u);
}

TEST(BadInput, AFileThatIsNotThere) {
    const Folder folder;
    EXPECT_EQ(error_of(folder.path() / "nothing.stp").code, "part.not_found");
    EXPECT_EQ(error_of(folder.path() / "no folder" / "nothing.stp").code, "part.not_found");
}

TEST(BadInput, AFolder) {
    const Folder folder;
    std::filesystem::create_directory(folder.path() / "folder.stp");
    EXPECT_EQ(error_of(folder.path() / "folder.stp").code, "part.not_readable");
}

TEST(BadInput, APipeIsNotWaitedFor) {
    const Folder folder;
    ASSERT_EQ(::mkfifo((folder.path() / "pipe.stp").c_str(), 0600), 0);
    EXPECT_EQ(error_of(folder.path() / "pipe.stp").code, "part.not_readable");
}

TEST(BadInput, ALinkToItself) {
    const Folder folder;
    std::filesystem::create_symlink("loop.stp", folder.path() / "loop.stp");
    EXPECT_EQ(error_of(folder.path() / "loop.stp").code, "part.not_readable");
}

TEST(BadInput, AFileWithoutPermission) {
    const Folder folder;
    const auto file = folder.write("secret.stp", cube());
    std::filesystem::permissions(file, std::filesystem::perms::none);
    if (::geteuid() != 0) {
        EXPECT_EQ(error_of(file).code, "part.not_readable");
    } else { // root may read everything
        EXPECT_TRUE(reader().read(file, Progress()));
    }
}

TEST(BadInput, AnAssemblyWithoutItsFilesNamesThem) {
    const Folder folder;
    const auto file = folder.write("s1-c5-214.stp", open_text("s1-c5-214/s1-c5-214.stp"));
    const Error error = error_of(file);
    EXPECT_EQ(error.code, "part.missing_reference");
    EXPECT_THAT(error.message, testing::AllOf(HasSubstr("TAIL.stp"), HasSubstr("HEAD.stp"), HasSubstr("MAINBODY.stp"),
                                              HasSubstr("FOOT.stp")));
}

TEST(BadInput, AnAssemblyOneOfWhoseFilesIsGarbageNamesIt) {
    const Folder folder;
    for (const auto& entry : std::filesystem::directory_iterator(open_part("s1-c5-214")))
        std::filesystem::copy_file(entry.path(), folder.path() / entry.path().filename());
    folder.write("TAIL_TURBINE.stp", noise(5000));
    const Error error = error_of(folder.path() / "s1-c5-214.stp");
    EXPECT_EQ(error.code, "part.missing_reference");
    EXPECT_THAT(error.message, HasSubstr("TAIL_TURBINE.stp"));
}

TEST(BadInput, WhatIsMissingIsNamed) {
    const Folder folder;
    EXPECT_THAT(error_of(folder.write("a.stp", without(cube(), "CLOSED_SHELL"))).message, HasSubstr("#30"));
    EXPECT_THAT(error_of(folder.write("b.stp", without(cube(), "CARTESIAN_POINT"))).message, HasSubstr("missing"));
}

TEST(BadInput, LettersScatteredOverAFileNeverDoMoreThanFail) {
    const Folder folder;
    const std::string text = cube();
    const std::size_t data = text.find("DATA;");
    std::mt19937 random(7);
    for (int round = 0; round < 12; ++round) {
        std::string mutated = text;
        for (int i = 0; i < 4; ++i)
            mutated[data + 5 + random() % (text.size() - data - 40)] = "0123456789#(),.;'$*"[random() % 19];
        const auto file = folder.write("mutated.stp", mutated);
        const auto part = reader().read(file, Progress());
        EXPECT_TRUE(part ? !(*part)->faces().empty() : !part.error().hint.empty());
    }
}

} // namespace
} // namespace touchmark::test
