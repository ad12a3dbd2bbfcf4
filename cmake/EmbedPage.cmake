# cmake -DFOLDER=... -DOUTPUT=... -P EmbedPage.cmake: writes a C++ file that carries every file of
# the folder, as it is and compressed, and lists them as workbench/page.h has them.
find_program(GZIP gzip REQUIRED)
file(GLOB_RECURSE paths RELATIVE ${FOLDER} ${FOLDER}/*)
list(FILTER paths EXCLUDE REGEX "\\.gz$")
list(SORT paths)

# The assembler brings the bytes: no compiler reads them.
function(carry label path)
  string(APPEND blobs "  .global ${label}\\n${label}: .incbin \\\"${path}\\\"\\n  .global ${label}_end\\n${label}_end:\\n")
  set(blobs "${blobs}" PARENT_SCOPE)
  set(symbols "${symbols}extern const char ${label}[];\nextern const char ${label}_end[];\n" PARENT_SCOPE)
endfunction()

set(number 0)
foreach(path ${paths})
  execute_process(COMMAND ${GZIP} -9 -n -k -f ${FOLDER}/${path} COMMAND_ERROR_IS_FATAL ANY)
  set(plain combwright_page_${number})
  set(packed combwright_page_${number}_gz)
  carry(${plain} ${FOLDER}/${path})
  carry(${packed} ${FOLDER}/${path}.gz)
  string(APPEND rows "    PageFile{\"/${path}\", {${plain}, ${plain}_end}, {${packed}, ${packed}_end}},\n")
  math(EXPR number "${number} + 1")
endforeach()

file(WRITE ${OUTPUT} "// Made by EmbedPage.cmake.
#include \"workbench/page.h\"

#include <array>

asm(\".section .rodata\\n${blobs}  .previous\\n\");
extern \"C\" {
${symbols}}

namespace combwright::workbench {

std::span<const PageFile> page_files() {
  static const std::array files{
${rows}  };
  return files;
}

}  // namespace combwright::workbench
")
