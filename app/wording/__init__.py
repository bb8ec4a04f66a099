"""Translations: which words there are to translate, and a language put in their place."""
