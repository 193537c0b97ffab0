# cmake -DOUT=x.cpp -DHEADER=report/assets.hpp -DNAMESPACE=retap::report -DFILES=function=path;... -P embed.cmake
# Writes text files as functions that return a string_view. String literals have a length limit in the standard, so a
# file becomes a char array; that also spares it any quoting.
set(code "#include \"${HEADER}\"\n\nnamespace ${NAMESPACE} {\n\n")
foreach(entry IN LISTS FILES)
  string(REGEX MATCH "^([^=]+)=(.*)$" matched "${entry}")
  set(function "${CMAKE_MATCH_1}")
  file(READ "${CMAKE_MATCH_2}" bytes HEX)
  string(REGEX REPLACE "(................................)" "\\1\n" bytes "${bytes}")
  string(REGEX REPLACE "([0-9a-f][0-9a-f])" "'\\\\x\\1'," bytes "${bytes}")
  string(APPEND code "static constexpr char ${function}_bytes[] = {\n${bytes}'\\0'};\n\n"
                     "std::string_view ${function}() {\n    return {${function}_bytes, sizeof ${function}_bytes - 1};\n}\n\n")
endforeach()
string(APPEND code "} // namespace ${NAMESPACE}\n")
file(WRITE "${OUT}" "${code}")
