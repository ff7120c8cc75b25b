// Package store keeps facts and derived sessions in one SQLite file.
package store
