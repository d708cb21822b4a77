/** Control characters but for line breaks and tabs. The database takes no NUL, and nobody can read the others. */
export const unprintable = /[^\P{Cc}\n\r\t]/gu;
