// SPDX-License-Identifier: MIT

#include "core/part/prescan.h"
#include "tests/core/part/derived_files.h"

#include <gtest/gtest.h>

namespace touchmark::part {
namespace {

std::string file_of(const std::string& data,
                    const std::string& header = "FILE_SCHEMA(('AUTOMOTIVE_DESIGN { 1 0 10303 214 }'));") {
    return "ISO-10303-21;\nHEADER;\n" + header + "\nENDSEC;\nDATA;\n" + data + "\nENDSEC;\nEND-ISO-10303-21;\n";
}

Result<Prescan> scanned(const std::string& text) {
    return prescan(text, "x.stp");
}

std::string code_of(const std::string& data) {
    const auto found = scanned(file_of(data));
    return found ? "" : found.error().code;
}

TEST(Prescan, FindsSchemaUnitAndCounts) {
    const auto found = scanned(test::open_text("dm1-id-214.stp"));
    ASSERT_TRUE(found) << found.error().message;
    EXPECT_EQ(found->unit, "inch");
    EXPECT_EQ(found->schema.substr(0, 17), "AUTOMOTIVE_DESIGN");
    EXPECT_EQ(found->solids, 3u); // bracket, bolt and nut: what the file defines, not how often it places them
    EXPECT_GT(found->points, 100u);
    EXPECT_EQ(found->dangling, 0u);
    EXPECT_EQ(found->encoding, Encoding::ascii);
}

TEST(Prescan, AcceptsEveryWayToWriteANumber) {
    EXPECT_EQ(code_of("#1=CARTESIAN_POINT('',(1.,-2.5E-3,+3.e+02));"), "");
    EXPECT_EQ(code_of("#1=CARTESIAN_POINT('',(1,2,3));"), "");
    EXPECT_EQ(code_of("#1=CARTESIAN_POINT('',(1.E-300,0.,1.E+100));"), "");
    EXPECT_EQ(code_of("#1=THING(.T.,.UNSPECIFIED.,$,*,\"0AF\",'NaN inf 1.#IND');"), "");
    EXPECT_EQ(code_of("#1=THING(/* NaN */1.);"), "");
    EXPECT_EQ(code_of("#1=INFORMATION('');#2=NANOMETRE(1.);"), "");
}

TEST(Prescan, RefusesWhatIsNoNumber) {
    for (const char* number : {"NaN", "nan", "-nan", "inf", "-inf", "Infinity", "1.#QNAN", "-1.#IND", "-nan(ind)",
                               "1.E999", "1.E+400", "1.0x"}) {
        const std::string data = std::string("#7=CARTESIAN_POINT('',(") + number + ",0.,0.));";
        EXPECT_EQ(code_of(data), "part.bad_geometry") << number;
        EXPECT_NE(scanned(file_of(data)).error().message.find("#7"), std::string::npos) << number;
    }
}

TEST(Prescan, PointsOfTwoAreForCurvesInTheParameterPlane) {
    EXPECT_EQ(code_of("#1=CARTESIAN_POINT('',(1.,2.));#2=LINE('',#1,#3);#3=VECTOR('',#4,1.);#4=DIRECTION('',(1.,0.));"),
              "");
    EXPECT_EQ(code_of("#1=CARTESIAN_POINT('',(1.,2.));#2=VERTEX_POINT('',#1);"), "part.bad_geometry");
    EXPECT_EQ(code_of("#2=VERTEX_POINT('a (b, c)',#1);#1=CARTESIAN_POINT('a (b, c)',(1.,2.));"), "part.bad_geometry");
    EXPECT_EQ(code_of("#2=AXIS2_PLACEMENT_3D('',#1,$,$);#1=CARTESIAN_POINT('',\n( 1. , 2. ) );"), "part.bad_geometry");
}

TEST(Prescan, FindsWhatIsReferredToInVain) {
    EXPECT_EQ(scanned(file_of("#1=THING(#2);#2=THING(#1);"))->dangling, 0u);
    EXPECT_EQ(scanned(file_of("#1=THING(#2);#2=THING((#1,#42));"))->dangling, 42u);
    EXPECT_EQ(scanned(file_of("#1=THING('#42');"))->dangling, 0u);
}

TEST(Prescan, TellsEncodingsApart) {
    EXPECT_EQ(scanned(file_of("#1=THING('abc');"))->encoding, Encoding::ascii);
    EXPECT_EQ(scanned(file_of("#1=THING('ä件');"))->encoding, Encoding::utf8);
    EXPECT_EQ(scanned(file_of("#1=THING('\xE4');"))->encoding, Encoding::latin1);
    EXPECT_EQ(scanned(file_of("#1=THING('\xC3');"))->encoding, Encoding::latin1);
}

TEST(Prescan, KnowsUnits) {
    EXPECT_EQ(scanned(file_of("#1=(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.));"))->unit, "mm");
    EXPECT_EQ(scanned(file_of("#1=(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT($,.METRE.));"))->unit, "m");
    EXPECT_EQ(scanned(file_of("#2=(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.));"
                              "#1=(CONVERSION_BASED_UNIT('INCH',#3)LENGTH_UNIT()NAMED_UNIT(#4));"))
                  ->unit,
              "inch");
}

TEST(Prescan, NeverReadsPastTheEnd) {
    const std::string text = test::open_text("step_boundary_colors.stp");
    for (std::size_t size = 0; size < text.size(); size += 97) {
        const std::string cut = text.substr(0, size) + "\nEND-ISO-10303-21;";
        (void)prescan(std::span<const char>(cut.data(), cut.size()),
                      "x.stp"); // under the sanitizers: no error is the test
        EXPECT_FALSE(prescan(std::span<const char>(text.data(), size), "x.stp"));
    }
}

} // namespace
} // namespace touchmark::part
