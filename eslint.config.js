import comments from "@eslint-community/eslint-plugin-eslint-comments";
import tseslint from "typescript-eslint";

// House style that a machine can hold: no `any`, no default export, no floating promise, files of a size one can read.
export default tseslint.config(
  { ignores: [".build/", "node_modules/", "reports/", "coverage/", "sample-data/"] },
  ...tseslint.configs.strictTypeChecked,
  {
    plugins: { "@eslint-community/eslint-comments": comments },
    languageOptions: { parserOptions: { projectService: { allowDefaultProject: ["*.js", "*.cjs", "vitest.config.ts", "vitest.mutate.config.ts"] }, tsconfigRootDir: import.meta.dirname } },
    rules: {
      "max-lines": ["error", { max: 300, skipBlankLines: true, skipComments: true }],
      "no-restricted-syntax": ["error", { selector: "ExportDefaultDeclaration", message: "Export by name." }],
      "@typescript-eslint/restrict-template-expressions": ["error", { allowNumber: true }],
      "@typescript-eslint/no-confusing-void-expression": ["error", { ignoreArrowShorthand: true }],
      "no-console": "error",
      // A rule is switched off only with its reason behind `--`.
      "@eslint-community/eslint-comments/require-description": "error",
    },
  },
  { files: ["src/cli.ts", "src/commands/demo.ts"], rules: { "no-console": "off" } },
  // A test that reads what is not there fails, as it should.
  { files: ["tests/**"], rules: { "@typescript-eslint/no-non-null-assertion": "off" } },
  { files: ["*.js", "*.cjs", "*.config.ts", "src/start.mjs"], ...tseslint.configs.disableTypeChecked },
  { files: ["*.js", "*.cjs", "*.config.ts"], rules: { "no-restricted-syntax": "off" } },
);
