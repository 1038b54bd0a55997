# Headers that most files read, compiled once for each kind of target: over a clean build that is a quarter of its time.
# A file still includes what it uses; -DTOUCHMARK_PRECOMPILED=OFF shows whether it does.
option(TOUCHMARK_PRECOMPILED "Compile common headers once" ON)
if(NOT CMAKE_CXX_COMPILER_ID STREQUAL GNU OR TOUCHMARK_SANITIZE)
  set(TOUCHMARK_PRECOMPILED OFF)
endif()

set(touchmark_std_headers
  <algorithm> <array> <chrono> <cmath> <expected> <filesystem> <functional> <map> <memory> <mutex> <numeric> <optional>
  <ranges> <set> <span> <sstream> <string> <string_view> <unordered_map> <utility> <variant> <vector>)
set(touchmark_test_headers ${touchmark_std_headers} <fstream> <iostream> <random> <gtest/gtest.h> <gmock/gmock.h>)
file(CONFIGURE OUTPUT ${PROJECT_BINARY_DIR}/precompiled.cpp CONTENT "// Headers have to belong to a file.\n")

# touchmark_precompiled(KIND HEADERS ... [OPTIONS ...] [LIBRARIES ...]): compiled with what all targets of a kind share.
function(touchmark_precompiled kind)
  if(NOT TOUCHMARK_PRECOMPILED)
    return()
  endif()
  cmake_parse_arguments(arg "" "" "HEADERS;OPTIONS;LIBRARIES" ${ARGN})
  add_library(touchmark_precompiled_${kind} OBJECT ${PROJECT_BINARY_DIR}/precompiled.cpp)
  target_link_libraries(touchmark_precompiled_${kind} PRIVATE touchmark_settings ${arg_LIBRARIES})
  target_compile_options(touchmark_precompiled_${kind} PRIVATE ${arg_OPTIONS})
  target_precompile_headers(touchmark_precompiled_${kind} PRIVATE ${arg_HEADERS})
endfunction()

# touchmark_use_precompiled(TARGET KIND)
function(touchmark_use_precompiled target kind)
  if(TOUCHMARK_PRECOMPILED)
    target_precompile_headers(${target} REUSE_FROM touchmark_precompiled_${kind})
  endif()
endfunction()
