//! From a folder to a site: the stages, and all reading and writing of files.
