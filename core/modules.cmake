# One OBJECT library a module. CMake refuses a cycle among them when it generates, so the order of the modules
# (see DEVELOPERS.md) cannot rot unnoticed.

# touchmark_module(NAME SOURCES ... DEPENDS modules... [LIBRARIES targets...])
function(touchmark_module name)
  cmake_parse_arguments(arg "" "" "SOURCES;DEPENDS;LIBRARIES" ${ARGN})
  add_library(touchmark_${name} OBJECT ${arg_SOURCES})
  target_link_libraries(touchmark_${name} PUBLIC touchmark_settings ${arg_LIBRARIES})
  foreach(dependency IN LISTS arg_DEPENDS)
    target_link_libraries(touchmark_${name} PUBLIC touchmark_${dependency})
  endforeach()
  set_property(GLOBAL APPEND PROPERTY TOUCHMARK_MODULES ${name})
  set_property(GLOBAL PROPERTY TOUCHMARK_DEPENDS_${name} ${arg_DEPENDS})
endfunction()

# The modules that NAME stands on, itself included, each once.
function(touchmark_closure out)
  set(seen "")
  set(todo ${ARGN})
  while(todo)
    list(POP_FRONT todo module)
    if(NOT module IN_LIST seen)
      list(APPEND seen ${module})
      get_property(depends GLOBAL PROPERTY TOUCHMARK_DEPENDS_${module})
      list(APPEND todo ${depends})
    endif()
  endwhile()
  set(${out} ${seen} PARENT_SCOPE)
endfunction()
