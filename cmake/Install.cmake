install(TARGETS combwright_program RUNTIME)
